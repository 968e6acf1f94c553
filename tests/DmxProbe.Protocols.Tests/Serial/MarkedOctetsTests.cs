using DmxProbe.Protocols.Serial;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Protocols.Tests.Serial;

/// <summary>The marks are those of PARMRK in POSIX.1 (XBD 11.2.2, input modes), as Linux' termios(3) repeats them.</summary>
public class MarkedOctetsTests
{
    [Fact]
    public void Breaks_errors_and_the_octet_ff_are_told_apart()
    {
        Assert.Equal(
            [1, 0, 0, 0, 0, 0xFF, 2, 0x41, 0, 0x7F],
            Read([0xFF, 0, 0, 0, 0xFF, 0xFF, 0xFF, 0, 0x41, 0x7F], int.MaxValue));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(7)]
    public void Marks_cut_by_a_read_are_put_together(int chunk)
    {
        byte[] marked = [.. SerialOctets.Marked(0, 255, 255, 0), 0xFF, 0, 9, .. SerialOctets.Marked(0, 1)];
        Assert.Equal(Read(marked, int.MaxValue), Read(marked, chunk));
    }

    [Fact]
    public void A_mark_that_does_not_exist_is_taken_as_two_octets() => Assert.Equal([0, 0xFF, 0, 5], Read([0xFF, 5], 2));

    [Fact]
    public void Lost_characters_are_told_at_the_first_character_after_them()
    {
        byte[] run = new byte[8];
        MarkedOctets octets = new();
        Assert.Equal(2, octets.Read([1], run));
        Assert.Equal(4, octets.Read([2, 3], run, overrun: true));
        Assert.Equal([4, 2, 0, 3], run[..4]);
    }

    [Fact]
    public void Noise_is_safe_in_the_room_promised()
    {
        Random random = new(9);
        MarkedOctets octets = new();
        for (int round = 0; round < 20_000; round++)
        {
            byte[] noise = new byte[random.Next(20)];
            for (int i = 0; i < noise.Length; i++)
            {
                noise[i] = (byte)(random.Next(3) switch { 0 => 0xFF, 1 => 0, _ => random.Next(256) });
            }

            Assert.InRange(octets.Read(noise, new byte[(2 * noise.Length) + 2]), 0, (2 * noise.Length) + 2);
        }
    }

    private static byte[] Read(byte[] marked, int chunk)
    {
        MarkedOctets octets = new();
        List<byte> all = [];
        foreach (byte[] part in marked.Chunk(Math.Min(chunk, marked.Length)))
        {
            byte[] run = new byte[(2 * part.Length) + 2];
            all.AddRange(run[..octets.Read(part, run)]);
        }

        return [.. all];
    }
}
