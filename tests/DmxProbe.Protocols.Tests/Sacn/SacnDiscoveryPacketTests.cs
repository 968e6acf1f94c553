using System.Text;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Sacn;

// Constructed from E1.31-2018 Table 4-3.
public class SacnDiscoveryPacketTests
{
    private static readonly byte[] Example = Vector.Read("sacn_disc.bin");

    [Fact]
    public void The_universes_of_a_page_are_listed()
    {
        Assert.True(SacnDiscoveryPacket.TryParse(Example, out SacnDiscoveryPacket packet, out _));
        Assert.Equal([1, 2, 7962], List(packet));
        Assert.Equal((0, 0, 3), (packet.Page, packet.LastPage, packet.UniverseCount));
        Assert.Equal("Source_A", Encoding.UTF8.GetString(packet.SourceName));
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", packet.Cid.ToString());
        Assert.True(packet.IsSorted && packet.IsListVectorValid && packet.IsPreambleValid && packet.IsSourceNameTerminated);
        Assert.Equal((1u, 0u), (packet.ListVector, packet.Reserved));
        Assert.True(packet.FlagsAndLengthAgree(126));
    }

    [Fact]
    public void An_empty_list_is_a_page_without_universes()
    {
        byte[] data = Vector.Read("sacn_disc0.bin");

        Assert.True(SacnDiscoveryPacket.TryParse(data, out SacnDiscoveryPacket packet, out _));
        Assert.Empty(List(packet));
        Assert.True(packet.FlagsAndLengthAgree(120));
    }

    [Fact]
    public void A_full_page_holds_512_universes_and_never_more()
    {
        byte[] page = [.. Example[..120], .. Enumerable.Range(1, 600).SelectMany(u => unchecked(new[] { (byte)(u >> 8), (byte)u }))];

        Assert.True(SacnDiscoveryPacket.TryParse(Vector.With(page, 112, 0x74, 0x08), out SacnDiscoveryPacket packet, out _));
        Assert.Equal(Enumerable.Range(1, 512), List(packet));
        Assert.True(SacnDiscoveryPacket.TryParse(Vector.With(page, 112, 0x7F, 0xFF), out packet, out _));
        Assert.Equal(512, packet.UniverseCount);
    }

    [Fact]
    public void Octets_behind_the_stated_list_are_no_universes_but_a_wrong_length_hides_none()
    {
        byte[] longer = [.. Example, 0, 9];

        Assert.True(SacnDiscoveryPacket.TryParse(longer, out SacnDiscoveryPacket packet, out _));
        Assert.Equal(3, packet.UniverseCount);
        Assert.True(SacnDiscoveryPacket.TryParse(Vector.With(Example, 112, 0x70, 0x00), out packet, out _));
        Assert.Equal(3, packet.UniverseCount);
        Assert.False(packet.FlagsAndLengthAgree(126));
    }

    [Fact]
    public void An_unsorted_list_and_another_list_vector_are_told()
    {
        Assert.True(SacnDiscoveryPacket.TryParse(Vector.With(Example, 120, 0, 2), out SacnDiscoveryPacket packet, out _));
        Assert.False(packet.IsSorted);
        Assert.True(SacnDiscoveryPacket.TryParse(Vector.With(Example, 117, 2), out packet, out _));
        Assert.False(packet.IsListVectorValid);
    }

    [Fact]
    public void At_every_cut_length_whole_universes_are_listed_or_the_packet_is_refused()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            bool parsed = SacnDiscoveryPacket.TryParse(
                Vector.Cut(Example, length), out SacnDiscoveryPacket packet, out WireError error);

            Assert.Equal(length >= 120, parsed);
            Assert.Equal(parsed ? WireErrorKind.None : WireErrorKind.Truncated, error.Kind);
            if (parsed)
            {
                Assert.Equal(((int[])[1, 2, 7962])[..((length - 120) / 2)], List(packet));
            }
        }
    }

    [Fact]
    public void A_universe_outside_the_list_is_an_argument_error()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Universe(3));
        Assert.Throws<ArgumentOutOfRangeException>(() => Universe(-1));

        static int Universe(int index) =>
            SacnDiscoveryPacket.TryParse(Example, out SacnDiscoveryPacket packet, out _) ? packet.Universe(index) : 0;
    }

    private static List<int> List(SacnDiscoveryPacket packet)
    {
        List<int> universes = [];
        foreach (ushort universe in packet)
        {
            universes.Add(universe);
        }

        return universes;
    }
}
