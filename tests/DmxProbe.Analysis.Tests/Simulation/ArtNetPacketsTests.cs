using System.Net;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>
/// The builders against the check values of standards-facts C6 and Z (constructed from the published Art-Net 4
/// specification, read by a general dissector).
/// </summary>
public class ArtNetPacketsTests
{
    [Theory]
    [InlineData("4172742d4e6574000050000e050123010004ff804000", "dmx")]
    [InlineData("4172742d4e6574000020000e02100000000000000000", "poll")]
    [InlineData("4172742d4e6574000020000e0210", "old poll")]
    [InlineData("4172742d4e6574000052000e0000", "sync")]
    [InlineData("4172742d4e6574000051000e0617230100050000486900", "nzs")]
    [InlineData("4172742d4e6574000097000e00000c22380101", "time code")]
    public void The_check_values_come_out_byte_for_byte(string expected, string packet)
    {
        byte[] built = packet switch
        {
            "dmx" => ArtNetPackets.Dmx(0x123, 5, [255, 128, 64, 0], physical: 1),
            "poll" => ArtNetPackets.Poll(),
            "old poll" => ArtNetPackets.Poll(old: true),
            "sync" => ArtNetPackets.Sync(),
            "nzs" => ArtNetPackets.Nzs(0x123, 6, 0x17, [0, 0, (byte)'H', (byte)'i', 0]),
            _ => ArtNetPackets.Other(0x9700, [0, 0, 12, 34, 56, 1, 1]),
        };

        Assert.Equal(expected, Convert.ToHexStringLower(built));
    }

    [Fact]
    public void The_poll_reply_of_the_fact_sheet_comes_out_byte_for_byte()
    {
        byte[] reply = ArtNetPackets.PollReply(Example());

        string expected =
            "4172742d4e6574000021c000020a361901020102123400d2f07f" +
            "506f7274206f6e65" + Zeros(10) +
            "4c6f6e67206e616d65206f66206e6f6465" + Zeros(47) +
            "2330303031205b303034325d206f6b" + Zeros(49) +
            "0001 80000000 00000000 80000000 00000000 03000000 64 0000 000000 00 020000000001 c000020a 01 08 c0000000" +
            Zeros(9) + "002c" + Zeros(11);
        Assert.Equal(expected.Replace(" ", "", StringComparison.Ordinal), Convert.ToHexStringLower(reply));
    }

    [Fact]
    public void Odd_replies_can_be_built()
    {
        byte[] full = ArtNetPackets.PollReply(Example());
        Assert.Equal(full[..207], ArtNetPackets.PollReply(Example() with { Length = 207 }));
        Assert.Equal([.. full, 0, 0], ArtNetPackets.PollReply(Example() with { Length = 241 }));
        byte[] swapped = ArtNetPackets.PollReply(Example() with { StatedPort = 0x3619 });
        Assert.Equal([0x19, 0x36], swapped[14..16]);
        Assert.Equal(0x02, ArtNetPackets.Dmx(0, 1, new byte[4], statedLength: 514)[16]);
    }

    [SkippableTheory]
    [InlineData("artdmx.bin")]
    [InlineData("artnzs.bin")]
    [InlineData("artsync.bin")]
    [InlineData("artpoll14.bin")]
    [InlineData("artpoll22.bin")]
    [InlineData("artpollreply.bin")]
    public void The_constructed_vectors_come_out_byte_for_byte(string name)
    {
        string? path = Places.SharedFile("vectors", name);
        Skip.If(path is null, Places.NoShared);
        byte[] built = name switch
        {
            "artdmx.bin" => ArtNetPackets.Dmx(0x123, 5, [255, 128, 64, 0], physical: 1),
            "artnzs.bin" => ArtNetPackets.Nzs(0x123, 6, 0x17, [0, 0, (byte)'H', (byte)'i', 0]),
            "artsync.bin" => ArtNetPackets.Sync(),
            "artpoll14.bin" => ArtNetPackets.Poll(old: true),
            "artpoll22.bin" => ArtNetPackets.Poll(),
            _ => ArtNetPackets.PollReply(Example()),
        };

        Assert.Equal(File.ReadAllBytes(path), built);
    }

    private static ArtPollReplyFields Example() => new()
    {
        Address = IPAddress.Parse("192.0.2.10"),
        PortAddress = 0x123,
        PortName = "Port one",
        LongName = "Long name of node",
        NodeReport = "#0001 [0042] ok",
    };

    private static string Zeros(int octets) => new('0', 2 * octets);
}
