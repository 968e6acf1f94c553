using System.Globalization;

namespace DmxProbe.Protocols.Rdm;

/// <summary>What a slot is by SLOT_INFO: its type and label (ANSI E1.20 tables C-1 and C-2, known from secondary sources).</summary>
/// <param name="Offset">Slot, from 0 = the start address.</param>
/// <param name="Type">0 = primary; 1 fine, 2 timing, 3 speed, 4 control, 5 index, 6 rotation, 7 index-rotate, FFh not defined.</param>
/// <param name="Label">Of a primary slot what it is; of another one the offset of the slot that it belongs to.</param>
public readonly record struct RdmSlotLabel(int Offset, int Type, int Label)
{
    /// <summary>Octets of one entry.</summary>
    public const int Length = 5;

    /// <summary>What the slot is, in words: <c>intensity</c>, <c>fine of slot 1</c> (slots counted from 1).</summary>
    public string Words => Type == 0 ? Name(Label) : string.Create(CultureInfo.InvariantCulture, $"{Kind(Type)} of slot {Label + 1}");

    /// <summary>What a label is called; its number where it is none of the common ones.</summary>
    public static string Name(int label) => label switch
    {
        0x0001 => "intensity",
        0x0002 => "intensity master",
        0x0101 => "pan",
        0x0102 => "tilt",
        0x0201 => "colour wheel",
        0x0202 => "subtractive cyan",
        0x0203 => "subtractive yellow",
        0x0204 => "subtractive magenta",
        0x0205 => "red",
        0x0206 => "green",
        0x0207 => "blue",
        0x0208 => "colour temperature",
        0x0209 => "colour scroll",
        0x020A => "lime",
        0x020B => "indigo",
        0x020C => "cyan",
        0x020D => "deep red",
        0x020E => "deep blue",
        0x020F => "natural white",
        0x0210 => "semaphore",
        0x0211 => "amber",
        0x0212 => "white",
        0x0213 => "warm white",
        0x0214 => "cool white",
        0x0215 => "subtractive ultraviolet",
        0x0216 => "hue",
        0x0217 => "saturation",
        0x0218 => "ultraviolet",
        0x0301 => "static gobo",
        0x0302 => "rotating gobo",
        0x0303 => "prism",
        0x0304 => "effects wheel",
        0x0401 => "iris",
        0x0402 => "edge",
        0x0403 => "frost",
        0x0404 => "strobe",
        0x0405 => "zoom",
        0x0406 => "framing shutter",
        0x0407 => "framing shutter rotation",
        0x0408 => "douser",
        0x0409 => "barn door",
        0x0501 => "lamp control",
        0x0502 => "fixture control",
        0x0503 => "fixture speed",
        0x0504 => "macro",
        0x0505 => "power",
        0x0506 => "fan",
        0x0507 => "heater",
        0x0508 => "fountain",
        0xFFFF => "not defined",
        _ => label.ToString("X4", CultureInfo.InvariantCulture) + "h",
    };

    private static string Kind(int type) => type switch
    {
        1 => "fine",
        2 => "timing",
        3 => "speed",
        4 => "control",
        5 => "index",
        6 => "rotation",
        7 => "index and rotation",
        _ => "a part",
    };
}
