using DmxProbe.Testing.Files;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>
/// The builders against constructed and published packets. Source: standards-facts B11, whose packets a general
/// dissector read; layout of ANSI E1.31-2018 Tables 4-1 to 4-3; B-13 and B-14 are that standard's own examples.
/// </summary>
public class SacnPacketsTests
{
    private static readonly byte[] s_cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");

    [Fact]
    public void A_three_slot_data_packet_is_the_constructed_one()
    {
        string expected =
            "00100000 4153432d45312e3137000000 7071 00000004 ef07c8dd00644401a3a2459ef8e6143e" +
            "705b 00000002 536f757263655f41" + new string('0', 112) + "64 0000 01 00 0001" +
            "700e 02 a1 0000 0001 0004 00 ff8001";

        Assert.Equal(Hex(expected), SacnPackets.Data(s_cid, "Source_A", 1, 1, [255, 128, 1]));
    }

    [Fact]
    public void The_data_packet_of_the_standards_example_has_its_lengths_and_values()
    {
        byte[] packet = SacnPackets.Data(s_cid, "Source_A", 1, 154, new byte[512], syncAddress: 7962);

        Assert.Equal(638, packet.Length); // section 5.4
        Assert.Equal(Hex("726e00000004"), packet[16..22]); // Table B-13
        Assert.Equal(Hex("725800000002"), packet[38..44]);
        Assert.Equal(Hex("64 1f1a 9a 00 0001 720b 02 a1 0000 0001 0201 00"), packet[108..126]);
    }

    [Fact]
    public void The_synchronization_packet_of_the_standards_example_is_the_constructed_one()
    {
        // Table B-14; its sequence 367 does not fit an octet, 6f is 367 mod 256.
        string expected =
            "00100000 4153432d45312e3137000000 7021 00000008 ef07c8dd00644401a3a2459ef8e6143e" +
            "700b 00000001 6f 1f1a 0000";

        Assert.Equal(Hex(expected), SacnPackets.Sync(s_cid, 7962, 111));
    }

    [Fact]
    public void A_discovery_page_carries_its_universes()
    {
        byte[] packet = SacnPackets.Discovery(s_cid, "Source_A", [1, 2, 7962]);

        Assert.Equal(126, packet.Length);
        Assert.Equal(Hex("706e 00000008"), packet[16..22]);
        Assert.Equal(Hex("7058 00000002"), packet[38..44]);
        Assert.Equal(Hex("00000000 700e 00000001 00 00 0001 0002 1f1a"), packet[108..126]);
        Assert.Equal(1144, SacnPackets.Discovery(s_cid, "", [.. Enumerable.Range(1, 512)]).Length); // Table 4-3
    }

    [Fact]
    public void A_draft_packet_has_the_short_name_and_the_long_start_code()
    {
        byte[] packet = SacnPackets.Draft(s_cid, "Source_A", 1, 9, [1, 2, 3, 4, 5, 6, 7, 8]);

        Assert.Equal(98, packet.Length);
        Assert.Equal(Hex("7052 00000003"), packet[16..22]);
        Assert.Equal(Hex("703c 00000002"), packet[38..44]);
        Assert.Equal(Hex("64 09 0001 7012 02 a1 0000 0001 0008 0102030405060708"), packet[76..98]);
    }

    [Fact]
    public void A_name_that_leaves_no_room_for_its_zero_is_refused()
    {
        Assert.Throws<ArgumentException>(() => SacnPackets.Data(s_cid, new string('x', 64), 1, 0, []));
        Assert.Equal(126, SacnPackets.Data(s_cid, new string('x', 63), 1, 0, []).Length);
    }

    [SkippableTheory]
    [InlineData("sacn_3.bin")]
    [InlineData("sacn_dd.bin")]
    [InlineData("sacn_full.bin")]
    [InlineData("sacn_term.bin")]
    [InlineData("sacn_sync.bin")]
    [InlineData("sacn_disc.bin")]
    [InlineData("sacn_disc0.bin")]
    [InlineData("sacn_draft.bin")]
    public void The_constructed_vectors_come_out_byte_for_byte(string name)
    {
        string? path = Places.SharedFile("vectors", name);
        Skip.If(path is null, Places.NoShared);
        byte[] built = name switch
        {
            "sacn_3.bin" => SacnPackets.Data(s_cid, "Source_A", 1, 1, [255, 128, 1]),
            "sacn_dd.bin" => SacnPackets.Data(s_cid, "Source_A", 1, 3, [0x64, 0, 0xC8], startCode: 0xDD),
            "sacn_full.bin" => SacnPackets.Data(s_cid, "Source_A", 1, 154, new byte[512], syncAddress: 7962),
            "sacn_term.bin" => SacnPackets.Data(
                s_cid, "Source_A", 1, 2, new byte[512], options: SacnPackets.StreamTerminated),
            "sacn_sync.bin" => SacnPackets.Sync(s_cid, 7962, 111),
            "sacn_disc.bin" => SacnPackets.Discovery(s_cid, "Source_A", [1, 2, 7962]),
            "sacn_disc0.bin" => SacnPackets.Discovery(s_cid, "Source_A", []),
            _ => SacnPackets.Draft(s_cid, "Source_A", 1, 9, [1, 2, 3, 4, 5, 6, 7, 8]),
        };

        Assert.Equal(File.ReadAllBytes(path), built);
    }

    private static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));
}
