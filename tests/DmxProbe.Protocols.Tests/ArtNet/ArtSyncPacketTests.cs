using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

public class ArtSyncPacketTests
{
    [Fact]
    public void The_example_is_read_and_refused_when_cut()
    {
        byte[] data = Vector.Read("artsync.bin");

        Assert.True(ArtSyncPacket.TryParse(data, out ArtSyncPacket packet, out _));
        Assert.Equal((14, 0), (packet.ProtVer, packet.Aux));
        for (int length = 0; length < data.Length; length++)
        {
            Assert.False(ArtSyncPacket.TryParse(Vector.Cut(data, length), out _, out WireError error));
            Assert.Equal(WireError.Truncated(14, length), error);
        }
    }
}
