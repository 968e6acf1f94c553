namespace DmxProbe.Protocols.ArtNet;

/// <summary>What an ArtAddress packet tells a node about merging (Art-Net 4, document 1.4dn, pages 50 to 57).</summary>
/// <param name="Command">Command octet: 01h cancel merge, 10h to 13h latest takes precedence, 50h to 53h highest.</param>
/// <param name="BindIndex">Which part of the node is meant, 1 to 255; a 0 sent means the root, 1.</param>
public readonly record struct ArtMergeCommand(byte Command, int BindIndex)
{
    private const int PortMask = 0x03;
    private const int Latest = 0x10;
    private const int Highest = 0x50;

    /// <summary>Reads the command of an ArtAddress packet.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="command">The command; default where there is none about merging.</param>
    /// <returns>False where it is no whole ArtAddress packet, or its command is about something else.</returns>
    public static bool TryRead(ReadOnlySpan<byte> data, out ArtMergeCommand command)
    {
        command = default;
        if (!ArtAddressPacket.TryParse(data, out ArtAddressPacket packet, out _)
            || (packet.Command != ArtAddressCommand.CancelMerge && (packet.Command & ~PortMask) is not (Latest or Highest)))
        {
            return false;
        }

        command = new ArtMergeCommand(packet.Command, Math.Max((byte)1, packet.BindIndex));
        return true;
    }
}
