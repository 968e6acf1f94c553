namespace DmxProbe.Protocols.Tests.Net;

/// <summary>
/// Messages about groups and addresses, constructed octet by octet from RFC 826, 2236, 2710, 3376 and 3810; checksums of the
/// IGMP ones worked out by hand (RFC 1071).
/// </summary>
internal static class GroupBytes
{
    // Type 22h, checksum, two records: exclude nothing of 239.255.0.1, include one source of 239.255.0.2 with one word of data.
    public static readonly byte[] Igmp3Report = Vector.Hex(
        "22 00 f0 d4 0000 0002  02 00 0000 ef ff 00 01  01 01 0001 ef ff 00 02 0a 14 00 10 00 00 00 00");

    public static readonly byte[] Igmp2Report = Vector.Hex("16 00 f9 fe ef ff 00 01");

    public static readonly byte[] Igmp2Leave = Vector.Hex("17 00 f8 fe ef ff 00 01");

    // General query of version 3: response in 10 s, robustness 2, every 125 s.
    public static readonly byte[] Igmp3Query = Vector.Hex("11 64 ec 1e 00 00 00 00 02 7d 0000");

    public static readonly byte[] Mld1Report = Vector.Hex("83 00 0000 0000 0000 ff180000000000000000000083000001");

    public static readonly byte[] Mld1Query = Vector.Hex("82 00 0000 2710 0000 00000000000000000000000000000000");

    public static readonly byte[] Mld2Query = Vector.Hex("82 00 0000 2710 0000 00000000000000000000000000000000 02 7d 0000");

    // Joins ff18::8300:1, leaves ff18::8300:2.
    public static readonly byte[] Mld2Report = Vector.Hex(
        "8f 00 0000 0000 0002  04 00 0000 ff180000000000000000000083000001  03 00 0000 ff180000000000000000000083000002");

    public static readonly byte[] ArpReply = Vector.Hex(
        "0001 0800 06 04 0002  02 00 0a 14 00 10  0a 14 00 10  02 00 0a 14 00 11  0a 14 00 11");
}
