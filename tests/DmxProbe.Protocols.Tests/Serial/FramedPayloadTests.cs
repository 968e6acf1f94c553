using DmxProbe.Protocols.Serial;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Serial;

/// <summary>The layouts of these payloads are from memory: there is no published document to check them against.</summary>
public class FramedPayloadTests
{
    [Fact]
    public void A_received_packet_has_a_status_a_start_code_and_slots()
    {
        Assert.True(ReceivedPacket.TryParse([2, 0xCC, 7, 8], FramedOptions.Usual, out ReceivedPacket packet, out _));
        Assert.Equal((2, 0xCC, true), (packet.Status, packet.StartCode, packet.IsDamaged));
        Assert.Equal([7, 8], packet.Slots.ToArray());
        Assert.True(ReceivedPacket.TryParse([0, 5], FramedOptions.Usual with { StatusOctets = 0 }, out packet, out _));
        Assert.Equal((0, 0, 1), (packet.Status, packet.StartCode, packet.Slots.Length));
    }

    [Fact]
    public void A_received_packet_too_short_or_too_long_is_refused_with_its_offset()
    {
        Assert.False(ReceivedPacket.TryParse([0], FramedOptions.Usual, out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.Truncated, 1, 2, 1), error);
        Assert.True(ReceivedPacket.TryParse(new byte[514], FramedOptions.Usual, out _, out _));
        Assert.False(ReceivedPacket.TryParse(new byte[515], FramedOptions.Usual, out _, out error));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 514, 514, 515), error);
    }

    [Fact]
    public void Changes_are_written_where_the_map_says()
    {
        byte[] packet = new byte[513];
        // First octet 8 x 2 = 16; bits 0, 9 and 39 of the map: slots 16, 25 and 55.
        Assert.True(ChangedSlots.TryParse([2, 1, 2, 0, 0, 0x80, 10, 20, 30], out ChangedSlots changed, out _));
        Assert.Equal(16, changed.First);
        Assert.Equal(55, changed.Apply(packet));
        Assert.Equal((10, 20, 30), (packet[16], packet[25], packet[55]));
        Assert.Equal(60, packet.Sum(octet => octet));
    }

    [Fact]
    public void Changes_past_slot_512_are_refused()
    {
        Assert.True(ChangedSlots.TryParse([64, 1, 0, 0, 0, 0, 9], out ChangedSlots last, out _));
        Assert.Equal(512, last.Apply(new byte[513]));
        Assert.False(ChangedSlots.TryParse([64, 2, 0, 0, 0, 0, 9], out _, out WireError error));
        Assert.Equal(WireErrorKind.Invalid, error.Kind);
    }

    [Fact]
    public void Changes_are_refused_at_every_cut_length()
    {
        byte[] whole = [2, 1, 2, 0, 0, 0x80, 10, 20, 30];
        for (int length = 0; length < whole.Length; length++)
        {
            Assert.False(ChangedSlots.TryParse(Vector.Cut(whole, length), out _, out WireError error));
            Assert.Equal(WireErrorKind.Truncated, error.Kind);
        }
    }

    [Fact]
    public void Noise_is_safe()
    {
        Random random = new(5);
        byte[] packet = new byte[513];
        for (int round = 0; round < 20_000; round++)
        {
            byte[] noise = new byte[random.Next(60)];
            random.NextBytes(noise);
            ReceivedPacket.TryParse(noise, FramedOptions.Usual, out _, out _);
            if (ChangedSlots.TryParse(noise, out ChangedSlots changed, out _))
            {
                Assert.InRange(changed.Apply(packet), -1, 512);
            }
        }
    }

    [Theory]
    [InlineData("received=6,status=0,change=none", 6, 0, -1, false)]
    [InlineData("from=zero", 5, 1, 9, true)]
    public void Settings_are_read_as_a_person_types_them(string text, int received, int status, int change, bool fromZero)
    {
        Assert.True(FramedOptions.TryParse(text, out FramedOptions options, out string problem), problem);
        Assert.Equal((received, status, change, fromZero), (options.ReceivedLabel, options.StatusOctets, options.ChangeLabel, options.ChangesFromZero));
    }

    [Theory]
    [InlineData("")]
    [InlineData("label=5")]
    [InlineData("received=256")]
    [InlineData("received=none")]
    [InlineData("received=5,received=5")]
    [InlineData("status=9")]
    [InlineData("longest=0")]
    [InlineData("from=0")]
    [InlineData("received=5=5")]
    public void Settings_that_cannot_be_are_refused_in_a_sentence(string text)
    {
        Assert.False(FramedOptions.TryParse(text, out _, out string problem));
        Assert.Contains("expected", problem, StringComparison.Ordinal);
    }
}
