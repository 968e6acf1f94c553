using System.Text;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

/// <summary>Packets that set up devices, field by field (Art-Net 4, document 1.4dn, pages 45 to 57 and 86).</summary>
public class ArtProgrammingPacketsTests
{
    [Fact]
    public void ArtAddress_reads_field_by_field()
    {
        byte[] data = Vector.With(Vector.With(Vector.Read("artaddr.bin"), 96, 0x84, 0, 0, 0, 0x83), 106, 0x52);

        Assert.True(ArtAddressPacket.TryParse(data, out ArtAddressPacket packet, out _));
        Assert.Equal((14, 0x81, 1, 0x82, 255, 0x52), (packet.ProtVer, packet.NetSwitch, packet.BindIndex, packet.SubSwitch, packet.AcnPriority, packet.Command));
        Assert.True(packet.WritesNet && packet.WritesSub);
        Assert.Equal(("Port one", ""), (Encoding.ASCII.GetString(packet.PortName), Encoding.ASCII.GetString(packet.LongName)));
        Octets.Equal([0x84, 0, 0, 0], packet.SwIn);
        Octets.Equal([0x83, 0, 0, 0], packet.SwOut);
        Assert.Equal(("merge by highest value", 2), (ArtAddressCommand.Name(packet.Command), ArtAddressCommand.Port(packet.Command)));
    }

    // Pages 53 to 57.
    [Theory]
    [InlineData(0x00, "nothing", -1)]
    [InlineData(0x01, "end the merge", -1)]
    [InlineData(0x0B, "when levels fail: play the stored look", -1)]
    [InlineData(0x10, "merge by latest value", 0)]
    [InlineData(0x73, "port to sACN", 3)]
    [InlineData(0xE0, "background queue policy", 0)]
    [InlineData(0x44, "unknown command 44h", 4)]
    public void A_command_has_words(byte command, string name, int port) =>
        Assert.Equal((name, port), (ArtAddressCommand.Name(command), ArtAddressCommand.Port(command)));

    [Fact]
    public void ArtInput_reads_field_by_field()
    {
        Assert.True(ArtInputPacket.TryParse(Vector.Read("artinput.bin"), out ArtInputPacket packet, out _));
        Assert.Equal((14, 1, 4), (packet.ProtVer, packet.BindIndex, packet.NumPorts));
        Octets.Equal([1, 0, 1, 0], packet.Input);
    }

    [Fact]
    public void ArtIpProg_and_its_reply_read_field_by_field()
    {
        Assert.True(ArtIpProgPacket.TryParse(Vector.Read("artipprog.bin"), out ArtIpProgPacket packet, out _));
        Assert.Equal((14, 0x86, true, 6454), (packet.ProtVer, packet.Command, packet.IsProgramming, packet.ProgPort));
        Assert.Equal(("192.0.2.20", "255.255.255.0", "192.0.2.1"), (packet.ProgIp.ToString(), packet.ProgMask.ToString(), packet.ProgGateway.ToString()));

        Assert.True(ArtIpProgReplyPacket.TryParse(Vector.Read("artipprogreply.bin"), out ArtIpProgReplyPacket reply, out _));
        Assert.Equal((14, 6454, 0, false), (reply.ProtVer, reply.ProgPort, reply.Status, reply.IsDhcp));
        Assert.Equal(("192.0.2.20", "255.255.255.0", "192.0.2.1"), (reply.ProgIp.ToString(), reply.ProgMask.ToString(), reply.ProgGateway.ToString()));
    }

    [Theory]
    [InlineData("artaddr.bin", 107)]
    [InlineData("artinput.bin", 20)]
    [InlineData("artipprog.bin", 34)]
    [InlineData("artipprogreply.bin", 34)]
    public void They_are_refused_at_every_shorter_length(string file, int needed)
    {
        byte[] data = Vector.Read(file);
        for (int length = 0; length < needed; length++)
        {
            byte[] cut = Vector.Cut(data, length);
            WireError error = file switch
            {
                "artaddr.bin" => ArtAddressPacket.TryParse(cut, out _, out WireError a) ? default : a,
                "artinput.bin" => ArtInputPacket.TryParse(cut, out _, out WireError b) ? default : b,
                "artipprog.bin" => ArtIpProgPacket.TryParse(cut, out _, out WireError c) ? default : c,
                _ => ArtIpProgReplyPacket.TryParse(cut, out _, out WireError d) ? default : d,
            };
            Assert.Equal(WireError.Truncated(needed, length), error);
        }
    }
}
