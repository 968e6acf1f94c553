using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

/// <summary>RDM over Art-Net, field by field (Art-Net 4, document 1.4dn, pages 96 to 105).</summary>
public class ArtRdmPacketsTests
{
    [Fact]
    public void ArtTodRequest_gives_the_port_addresses_it_states_and_holds()
    {
        byte[] data = Vector.Read("arttodreq.bin");
        Assert.True(ArtTodRequestPacket.TryParse(data, out ArtTodRequestPacket packet, out _));
        Assert.Equal((14, 1, 0, 1, 1, 0x123), (packet.ProtVer, packet.Net, packet.Command, packet.AddCount, packet.Count, packet.PortAddress(0)));

        Assert.True(ArtTodRequestPacket.TryParse(Vector.With(data, 23, 200), out packet, out _));
        Assert.Equal(32, packet.Count);
        Assert.True(ArtTodRequestPacket.TryParse(Vector.Cut(Vector.With(data, 23, 200), 26), out packet, out _));
        Assert.Equal(2, packet.Count);
    }

    [Fact]
    public void ArtTodData_gives_the_uids_it_states_and_holds()
    {
        byte[] data = Vector.Read("arttoddata.bin");
        Assert.True(ArtTodDataPacket.TryParse(data, out ArtTodDataPacket packet, out _));
        Assert.Equal((1, 1, 1, 0x123, 2, 0, 2), (packet.RdmVer, packet.Port, packet.BindIndex, packet.PortAddress, packet.UidTotal, packet.BlockCount, packet.UidCount));
        Assert.Equal(("7FF0:00000001", "7FF0:00000002", false), (packet.Uid(0).ToString(), packet.Uid(1).ToString(), packet.IsNak));

        Assert.True(ArtTodDataPacket.TryParse(Vector.Cut(data, 39), out packet, out _));
        Assert.Equal(1, packet.Count);
        Assert.True(ArtTodDataPacket.TryParse(Vector.With(data, 22, 0xFF), out packet, out _));
        Assert.True(packet.IsNak);
    }

    [Fact]
    public void ArtTodControl_and_ArtRdm_read_field_by_field()
    {
        Assert.True(ArtTodControlPacket.TryParse(Vector.Read("arttodctl.bin"), out ArtTodControlPacket control, out _));
        Assert.Equal((14, 1, 1, 0x123), (control.ProtVer, control.Net, control.Command, control.PortAddress));

        Assert.True(ArtRdmPacket.TryParse(Vector.Read("artrdm.bin"), out ArtRdmPacket rdm, out _));
        Assert.Equal((1, 0, 0, 0, 0x123), (rdm.RdmVer, rdm.FifoAvail, rdm.FifoMax, rdm.Command, rdm.PortAddress));

        // The message begins with the sub-START code: its START code CCh is left out.
        Octets.Equal([0x01, 0x18, 0x7F, 0xF0], rdm.Message[..4]);
        Assert.Equal(25, rdm.Message.Length);
    }

    [Fact]
    public void ArtRdmSub_reads_field_by_field()
    {
        byte[] data = Vector.Hex("4172742d4e657400 0084 000e 01 00 7ff000000001 00 20 00f0 0001 0002 00000000 0001 0010");
        Assert.True(ArtRdmSubPacket.TryParse(data, out ArtRdmSubPacket packet, out _));
        Assert.Equal((1, "7FF0:00000001", 0x20, 0xF0), (packet.RdmVer, packet.Uid.ToString(), packet.CommandClass, packet.ParameterId));
        Assert.Equal((1, 2), (packet.SubDevice, packet.SubCount));
        Octets.Equal([0, 1, 0, 0x10], packet.Data);
    }

    [Theory]
    [InlineData("arttodreq.bin", 24)]
    [InlineData("arttoddata.bin", 28)]
    [InlineData("arttodctl.bin", 24)]
    [InlineData("artrdm.bin", 24)]
    public void They_are_refused_at_every_shorter_length(string file, int needed)
    {
        byte[] data = Vector.Read(file);
        for (int length = 0; length < needed; length++)
        {
            byte[] cut = Vector.Cut(data, length);
            WireError error = file switch
            {
                "arttodreq.bin" => ArtTodRequestPacket.TryParse(cut, out _, out WireError a) ? default : a,
                "arttoddata.bin" => ArtTodDataPacket.TryParse(cut, out _, out WireError b) ? default : b,
                "arttodctl.bin" => ArtTodControlPacket.TryParse(cut, out _, out WireError c) ? default : c,
                _ => ArtRdmPacket.TryParse(cut, out _, out WireError d) ? default : d,
            };
            Assert.Equal(WireError.Truncated(needed, length), error);
        }
    }
}
