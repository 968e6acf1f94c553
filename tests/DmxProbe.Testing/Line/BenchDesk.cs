using System.Text;

using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Line;

/// <summary>
/// A second of a controller on the bench, as if sampled at 1 MHz only: breaks of 148 to 165 us and marks of 12 to 18 us, as some
/// desks make them in software. No desk was recorded; what is invented and what follows a real one is in captures/README.md. The
/// marks come as near to the limit as one sample: the recording cannot decide it, nor the bit time.
/// </summary>
public static class BenchDesk
{
    /// <summary>Path below captures/, with / between folders.</summary>
    public const string File = "bench/desk-1mhz.vcd";

    private const ulong Seed = 20_261_126;
    private const int Packets = 30;
    private const int Slots = 512;
    private const long SamplesPerSecond = 1_000_000;

    /// <summary>Makes the signal, with the truth about each packet.</summary>
    public static LineSynthesiser Line()
    {
        SeededRandom random = new(Seed);
        LineSynthesiser line = new(Seed);
        byte[] slots = new byte[Slots];
        slots[0] = 255; // no single high bit between low ones: the bit time rests on low pulses only, as with standing levels it often does
        line.Idle(9_000);
        for (int packet = 0; packet < Packets; packet++)
        {
            line.Levels(
                new LineForm
                {
                    Bit = 3.95, // a clock 1.25 % fast: allowed, and near enough to the limit that low pulses alone cannot say so
                    InterSlot = 0.5,
                    Break = 148 + (random.Next(0, 170) / 10.0),
                    MarkAfterBreak = 12 + (random.Next(0, 60) / 10.0),
                    MarkBeforeBreak = 8_200 + random.Next(0, 600),
                },
                slots);
        }

        return line;
    }

    /// <summary>The file.</summary>
    public static byte[] Make() =>
        Encoding.UTF8.GetBytes(new LineRecording(SamplesPerSecond, [new LineTrack("DMX+", Line().Signal)]).ToVcd());
}
