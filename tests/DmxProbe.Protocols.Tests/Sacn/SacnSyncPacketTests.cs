using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Sacn;

public class SacnSyncPacketTests
{
    private static readonly byte[] Example = Vector.Read("sacn_sync.bin");

    // Table B-14's own values: 7021, vector 8, CID, 700B, vector 1, 7962. Constructed: sequence 111 (the printed 367
    // does not fit an octet) and the reserved octets.
    [Fact]
    public void The_worked_example_of_E131_2018_table_B_14_reads_as_printed()
    {
        Assert.Equal(
            Vector.Hex(
                "00100000 4153432d45312e3137000000 7021 00000008 ef07c8dd00644401a3a2459ef8e6143e"
                + "700b 00000001 6f 1f1a 0000"),
            Example);

        Assert.True(SacnSyncPacket.TryParse(Example, out SacnSyncPacket packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", packet.Cid.ToString());
        Assert.Equal((111, 7962, 0), (packet.Sequence, packet.SyncAddress, packet.Reserved));
        Assert.True(packet.IsSyncAddressAllowed && packet.IsPreambleValid && packet.FlagsAndLengthAgree(49));
    }

    [Fact]
    public void Synchronization_address_0_is_read_and_told()
    {
        Assert.True(SacnSyncPacket.TryParse(Vector.With(Example, 45, 0, 0), out SacnSyncPacket packet, out _));
        Assert.False(packet.IsSyncAddressAllowed);
    }

    [Theory]
    [InlineData(17, 0x30)] // E1.31-2016 Appendix B printed 7030
    [InlineData(39, 0x0A)] // and 700A
    public void Wrong_lengths_are_told(int offset, byte value)
    {
        Assert.True(SacnSyncPacket.TryParse(Vector.With(Example, offset, value), out SacnSyncPacket packet, out _));
        Assert.False(packet.FlagsAndLengthAgree(49));
    }

    [Fact]
    public void A_cut_packet_is_refused_with_its_offset()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            Assert.False(SacnSyncPacket.TryParse(Vector.Cut(Example, length), out _, out WireError error));
            Assert.Equal((WireErrorKind.Truncated, length), (error.Kind, error.Offset));
        }
    }

    [Fact]
    public void Discovery_and_data_are_not_synchronization()
    {
        Assert.False(SacnSyncPacket.TryParse(Vector.Read("sacn_disc.bin"), out _, out WireError discovery));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 40, 1, 2), discovery);
        Assert.False(SacnSyncPacket.TryParse(Vector.Read("sacn_3.bin"), out _, out WireError data));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 18, 8, 4), data);
    }
}
