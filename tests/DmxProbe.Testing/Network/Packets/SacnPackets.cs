namespace DmxProbe.Testing.Network.Packets;

/// <summary>
/// Builds the UDP payloads of ANSI E1.31-2018 (standards-facts B2 to B4) and of the draft before it (B10). Written from
/// the layouts alone, with no help from the views in src, so that each checks the other.
/// </summary>
public static class SacnPackets
{
    /// <summary>UDP port (E1.31-2018 Appendix A).</summary>
    public const int Port = 5568;

    /// <summary>Universe that carries discovery (Appendix A).</summary>
    public const int DiscoveryUniverse = 64214;

    /// <summary>Options bit 7 (section 6.2.6).</summary>
    public const int PreviewData = 0x80;

    /// <summary>Options bit 6 (section 6.2.6).</summary>
    public const int StreamTerminated = 0x40;

    /// <summary>Options bit 5 (section 6.2.6).</summary>
    public const int ForceSynchronization = 0x20;

    /// <summary>A CID from its usual text, in the order of the network.</summary>
    public static byte[] Cid(string text) => Guid.Parse(text).ToByteArray(bigEndian: true);

    /// <summary>A data packet (Table 4-1): 126 octets and the slots.</summary>
    public static byte[] Data(
        ReadOnlySpan<byte> cid,
        string sourceName,
        int universe,
        int sequence,
        ReadOnlySpan<byte> slots,
        int priority = 100,
        int syncAddress = 0,
        int options = 0,
        int startCode = 0)
    {
        int count = slots.Length;
        return Root(cid, vector: 4, length: 110 + count)
            .U16(0x7000 | (88 + count)).U32(2)
            .Text(sourceName, 64)
            .U8(priority).U16(syncAddress).U8(sequence).U8(options).U16(universe)
            .U16(0x7000 | (11 + count)).U8(0x02).U8(0xA1).U16(0).U16(1).U16(1 + count)
            .U8(startCode).Raw(slots)
            .ToArray();
    }

    /// <summary>A synchronization packet (Table 4-2): 49 octets.</summary>
    public static byte[] Sync(ReadOnlySpan<byte> cid, int syncAddress, int sequence) =>
        Root(cid, vector: 8, length: 33)
            .U16(0x7000 | 11).U32(1)
            .U8(sequence).U16(syncAddress).U16(0)
            .ToArray();

    /// <summary>One page of a universe discovery packet (Table 4-3): 120 octets and two for each universe.</summary>
    public static byte[] Discovery(
        ReadOnlySpan<byte> cid,
        string sourceName,
        IReadOnlyList<int> universes,
        int page = 0,
        int lastPage = 0)
    {
        int octets = 2 * universes.Count;
        PacketBytes bytes = Root(cid, vector: 8, length: 104 + octets)
            .U16(0x7000 | (82 + octets)).U32(2)
            .Text(sourceName, 64)
            .U32(0)
            .U16(0x7000 | (8 + octets)).U32(1)
            .U8(page).U8(lastPage);
        foreach (int universe in universes)
        {
            bytes.U16(universe);
        }

        return bytes.ToArray();
    }

    /// <summary>
    /// A data packet in the layout of the draft: root vector 3, 32 octets of name, START code in the place of the first
    /// property address (standards-facts B10, from a general dissector's source).
    /// </summary>
    public static byte[] Draft(
        ReadOnlySpan<byte> cid,
        string sourceName,
        int universe,
        int sequence,
        ReadOnlySpan<byte> slots,
        int priority = 100,
        int startCode = 0)
    {
        int count = slots.Length;
        return Root(cid, vector: 3, length: 74 + count)
            .U16(0x7000 | (52 + count)).U32(2)
            .Text(sourceName, 32)
            .U8(priority).U8(sequence).U16(universe)
            .U16(0x7000 | (10 + count)).U8(0x02).U8(0xA1).U16(startCode).U16(1).U16(count)
            .Raw(slots)
            .ToArray();
    }

    private static PacketBytes Root(ReadOnlySpan<byte> cid, int vector, int length)
    {
        if (cid.Length != 16)
        {
            throw new ArgumentException("a CID has 16 octets", nameof(cid));
        }

        return new PacketBytes()
            .U16(0x0010).U16(0).Raw("ASC-E1.17\0\0\0"u8)
            .U16(0x7000 | length).U32(vector).Raw(cid);
    }
}
