using System.Text;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

// Constructed from Art-Net 4 (document 1.4dn) pages 36 to 44.
public class ArtPollReplyPacketTests
{
    private static readonly byte[] Example = Vector.Read("artpollreply.bin");

    [Fact]
    public void The_example_reads_field_by_field()
    {
        Assert.True(ArtPollReplyPacket.TryParse(Example, out ArtPollReplyPacket packet, out WireError error));
        Assert.Equal((WireError.None, 239), (error, packet.Length));
        Assert.Equal(("192.0.2.10", 6454, 0x0102), (packet.Ip.ToString(), packet.Port, packet.VersInfo));
        Assert.Equal((1, 2, 0x1234, 0), (packet.NetSwitch, packet.SubSwitch, packet.Oem, packet.UbeaVersion));
        Assert.Equal((0xD2, 0x7FF0), (packet.Status1, packet.EstaMan));
        Assert.Equal("Port one", Encoding.ASCII.GetString(packet.PortName));
        Assert.Equal("Long name of node", Encoding.ASCII.GetString(packet.LongName));
        Assert.Equal("#0001 [0042] ok", Encoding.ASCII.GetString(packet.NodeReport));
        Assert.Equal(1, packet.NumPorts);
        Octets.Equal([0x80, 0, 0, 0], packet.PortTypes);
        Octets.Equal([0, 0, 0, 0], packet.GoodInput);
        Octets.Equal([0x80, 0, 0, 0], packet.GoodOutputA);
        Octets.Equal([0, 0, 0, 0], packet.SwIn);
        Octets.Equal([3, 0, 0, 0], packet.SwOut);
        Assert.Equal((100, 0), (packet.AcnPriority, packet.Style));
        Octets.Equal([2, 0, 0, 0, 0, 1], packet.Mac);
        Assert.Equal(("192.0.2.10", (byte?)1), (packet.BindIp.ToString(), packet.BindIndex));
        Assert.Equal(((byte?)8, (byte?)0, (ushort?)44), (packet.Status2, packet.Status3, packet.RefreshRate));
        Octets.Equal([0xC0, 0, 0, 0], packet.GoodOutputB);
        Octets.Equal(new byte[6], packet.DefaultRespUid);
        Assert.False(packet.IsPortSwapped);
    }

    [Fact]
    public void The_port_address_of_each_port_is_joined_from_its_switches()
    {
        byte[] data = Vector.With(Example, 174, 0x80, 0x40, 0xC0, 0x00);
        data = Vector.With(Vector.With(data, 186, 0xF4, 5, 6, 7), 190, 3, 0xF1, 2, 15);

        Assert.True(ArtPollReplyPacket.TryParse(data, out ArtPollReplyPacket packet, out _));
        Assert.Equal((291, 289, 290, 303), (
            packet.OutputPortAddress(0), packet.OutputPortAddress(1), packet.OutputPortAddress(2), packet.OutputPortAddress(3)));
        Assert.Equal((292, 295), (packet.InputPortAddress(0), packet.InputPortAddress(3)));
        Assert.Equal((true, false, false, true), (packet.IsOutput(0), packet.IsInput(0), packet.IsOutput(1), packet.IsInput(1)));
        Assert.True(packet.IsOutput(2) && packet.IsInput(2) && !packet.IsOutput(3));
    }

    [Fact]
    public void A_reply_of_207_octets_is_read_without_the_later_members()
    {
        Assert.True(ArtPollReplyPacket.TryParse(Vector.Cut(Example, 207), out ArtPollReplyPacket packet, out _));
        Assert.Equal(291, packet.OutputPortAddress(0));
        Octets.Equal([2, 0, 0, 0, 0, 1], packet.Mac);
        Assert.Null(packet.BindIp);
        Assert.Null(packet.BindIndex);
        Assert.Null(packet.Status2);
        Assert.Null(packet.Status3);
        Assert.Null(packet.RefreshRate);
        Assert.True(packet.GoodOutputB.IsEmpty && packet.DefaultRespUid.IsEmpty);
    }

    [Fact]
    public void A_reply_of_213_octets_with_its_port_swapped_is_read_and_told() // real fault of a library
    {
        byte[] data = Vector.Cut(Vector.With(Example, 14, 0x19, 0x36), 213);

        Assert.True(ArtPollReplyPacket.TryParse(data, out ArtPollReplyPacket packet, out _));
        Assert.Equal((13849, true), (packet.Port, packet.IsPortSwapped));
        Assert.Equal((byte?)8, packet.Status2);
        Assert.True(packet.GoodOutputB.IsEmpty);
    }

    [Fact]
    public void Names_without_a_zero_octet_end_with_their_field()
    {
        byte[] data = Vector.With(Example, 26, [.. Enumerable.Repeat((byte)'x', 146)]);

        Assert.True(ArtPollReplyPacket.TryParse(data, out ArtPollReplyPacket packet, out _));
        Assert.Equal((18, 64, 64), (packet.PortName.Length, packet.LongName.Length, packet.NodeReport.Length));
    }

    [Fact]
    public void At_every_cut_length_it_is_readable_or_refused()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            bool parsed = ArtPollReplyPacket.TryParse(Vector.Cut(Example, length), out ArtPollReplyPacket packet, out WireError error);

            Assert.Equal(length >= 207, parsed);
            Assert.Equal(parsed ? WireError.None : WireError.Truncated(207, length), error);
            if (parsed)
            {
                Assert.Equal(length >= 211, packet.BindIp is not null);
                Assert.Equal(length >= 212, packet.BindIndex is not null);
                Assert.Equal(length >= 213, packet.Status2 is not null);
                Assert.Equal(length >= 217, !packet.GoodOutputB.IsEmpty);
                Assert.Equal(length >= 218, packet.Status3 is not null);
                Assert.Equal(length >= 224, !packet.DefaultRespUid.IsEmpty);
                Assert.Equal(length >= 228, packet.RefreshRate is not null);
            }
        }
    }
}
