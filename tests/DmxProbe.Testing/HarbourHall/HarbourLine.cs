using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// Two and a half seconds of the stage-left gateway's line, recorded at 10 MHz from the 20th second of the show on: universe
/// 1 of the sheet. The gateway makes its mark after break in software: nearly always too short to send, never too short for
/// a receiver.
/// </summary>
public static class HarbourLine
{
    private const ulong Seed = 2_026_031_406;
    private const int Slots = 512;
    private const double From = 20e9;
    private const double Length = 2.5e9;
    private const long SamplesPerSecond = 10_000_000;

    /// <summary>Where the recording ends, in nanoseconds of the signal.</summary>
    public static double Ends => Length;

    /// <summary>Makes it.</summary>
    /// <param name="faults">What is wrong.</param>
    public static LineRecording Recording(HarbourHallFaults faults)
    {
        LineSynthesiser line = Line(faults);
        return new LineRecording(SamplesPerSecond, [new LineTrack("stage left data +", line.Signal)], 0, Length);
    }

    /// <summary>The signal with the truth about each packet.</summary>
    /// <param name="faults">What is wrong.</param>
    public static LineSynthesiser Line(HarbourHallFaults faults)
    {
        SeededRandom random = new(Seed);
        CuePlayer show = HarbourHallScenario.Show();
        LineSynthesiser line = new(Seed);
        byte[] slots = new byte[Slots];
        line.Idle(412);
        while (line.Signal.Now < Length)
        {
            // Tenths of a microsecond: whole samples, so that the figures of the answer are exact.
            bool isShort = random.Chance(0.9);
            double mark = isShort ? 8.9 + random.Next(0, 20) / 10.0 : 13 + random.Next(0, 8) / 10.0;
            LineForm form = new()
            {
                Break = 104 + random.Next(0, 30) / 10.0,
                MarkAfterBreak = faults.HasFlag(HarbourHallFaults.ShortMark) ? mark : mark + 8,
                MarkBeforeBreak = 1_240 + random.Next(0, 1_000) / 10.0,
            };
            show.Fill(1, (long)(From + line.Signal.Now), slots);
            line.Levels(form, slots);
        }

        return line;
    }
}
