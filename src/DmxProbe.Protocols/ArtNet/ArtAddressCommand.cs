using System.Globalization;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>Commands of ArtAddress (Art-Net 4, document 1.4dn, pages 53 to 57) in words.</summary>
public static class ArtAddressCommand
{
    /// <summary>No command.</summary>
    public const byte None = 0x00;

    /// <summary>Ends a merge: who sends next is obeyed alone.</summary>
    public const byte CancelMerge = 0x01;

    private const int Group = 0xF0;
    private const int PortMask = 0x0F;

    /// <summary>
    /// The port a command is for, from 0; -1 for a command for the whole device. Ports 1 to 3 are deprecated: the parts
    /// of a device have a BindIndex each.
    /// </summary>
    public static int Port(byte command) => command >= 0x10 ? command & PortMask : -1;

    /// <summary>What a command asks for.</summary>
    public static string Name(byte command) => command switch
    {
        None => "nothing",
        CancelMerge => "end the merge",
        0x02 => "indicators normal",
        0x03 => "indicators off",
        0x04 => "indicators flash to be found",
        0x05 => "reset the receive flags",
        0x06 => "analysis on",
        0x07 => "analysis off",
        0x08 => "when levels fail: hold",
        0x09 => "when levels fail: all to zero",
        0x0A => "when levels fail: all to full",
        0x0B => "when levels fail: play the stored look",
        0x0C => "store the look for failure",
        _ => (command & Group) switch
        {
            0x10 => "merge by latest value",
            0x20 => "port to output",
            0x30 => "port to input",
            0x50 => "merge by highest value",
            0x60 => "port to Art-Net",
            0x70 => "port to sACN",
            0x90 => "clear the output",
            0xA0 => "output in changes only",
            0xB0 => "output continuously",
            0xC0 => "RDM on",
            0xD0 => "RDM off",
            0xE0 => "background queue policy",
            _ => string.Create(CultureInfo.InvariantCulture, $"unknown command {command:X2}h"),
        },
    };
}
