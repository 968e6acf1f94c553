using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Sacn;

public class SacnRootLayerTests
{
    [Theory]
    [InlineData("sacn_full.bin", SacnPacketType.Data)]
    [InlineData("sacn_3.bin", SacnPacketType.Data)]
    [InlineData("sacn_dd.bin", SacnPacketType.Data)]
    [InlineData("sacn_term.bin", SacnPacketType.Data)]
    [InlineData("sacn_sync.bin", SacnPacketType.Synchronization)]
    [InlineData("sacn_disc.bin", SacnPacketType.UniverseDiscovery)]
    [InlineData("sacn_disc0.bin", SacnPacketType.UniverseDiscovery)]
    [InlineData("sacn_draft.bin", SacnPacketType.Draft)]
    public void Both_vectors_tell_the_packet_type(string file, SacnPacketType type)
    {
        byte[] data = Vector.Read(file);

        Assert.True(SacnRootLayer.TryParse(data, out SacnRootLayer root, out _));
        Assert.Equal(type, root.PacketType);
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", root.Cid.ToString());
        Assert.True(root.IsPreambleValid && root.RootLengthAgrees(data.Length));
        Assert.Equal((0x0010, 0), (root.PreambleSize, root.PostambleSize));
    }

    [Theory]
    [InlineData(4u, 1u, SacnPacketType.Unknown)] // framing vector 1 exists under root 8 only
    [InlineData(8u, 3u, SacnPacketType.Unknown)]
    [InlineData(5u, 2u, SacnPacketType.Unknown)]
    [InlineData(0x50430001u, 0x12345678u, SacnPacketType.Secured)]
    public void Vectors_that_nobody_defined_are_unknown(uint rootVector, uint framingVector, SacnPacketType type)
    {
        byte[] data = Vector.With(Vector.Read("sacn_3.bin"), 18, Convert.FromHexString(rootVector.ToString("X8", null)));
        data = Vector.With(data, 40, Convert.FromHexString(framingVector.ToString("X8", null)));

        Assert.True(SacnRootLayer.TryParse(data, out SacnRootLayer root, out _));
        Assert.Equal((rootVector, framingVector, type), (root.RootVector, root.FramingVector, root.PacketType));
    }

    [Fact]
    public void A_cut_root_layer_is_refused_and_a_wrong_identifier_is_told_even_when_cut()
    {
        byte[] data = Vector.Read("sacn_3.bin");
        byte[] other = Vector.With(data, 12, (byte)'8');
        for (int length = 0; length < 44; length++)
        {
            Assert.False(SacnRootLayer.TryParse(Vector.Cut(data, length), out _, out WireError cut));
            Assert.Equal(WireError.Truncated(44, length), cut);
            Assert.False(SacnRootLayer.TryParse(Vector.Cut(other, length), out _, out WireError wrong));
            Assert.Equal(length > 12 ? WireErrorKind.NotThisProtocol : WireErrorKind.Truncated, wrong.Kind);
        }
    }
}
