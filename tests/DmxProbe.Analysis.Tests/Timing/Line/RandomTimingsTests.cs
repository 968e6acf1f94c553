using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Tests.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Timing.Line;

public class RandomTimingsTests
{
    private const int Timings = 10_000;
    private const int PacketsEach = 4;
    private static readonly long[] Rates = [1_000_000, 2_000_000, 4_000_000, 10_000_000, 12_000_000, 24_000_000];

    // Breaks from 56 us (13 bits is where a break begins for the decoder) and marks from 2 us on, both sides of every limit.
    [Fact]
    public void Ten_thousand_random_timings_are_measured_within_one_sample_and_judged_by_the_rule()
    {
        SeededRandom random = new(20_261_125);
        Dictionary<LimitVerdict, int> verdicts = [];
        for (int i = 0; i < Timings; i++)
        {
            LineForm form = new()
            {
                Break = random.Chance(0.5) ? Round(random, 84, 96) : Round(random, 56, 400),
                MarkAfterBreak = random.Chance(0.5) ? Round(random, 6, 14) : Round(random, 2, 120),
                Bit = 3.92 + 0.16 * random.NextDouble(),
                InterSlot = random.Chance(0.5) ? 0 : Round(random, 0, 60),
                MarkBeforeBreak = random.Chance(0.2) ? 0 : Round(random, 0, 900),
            };
            byte[] slots = [.. Enumerable.Range(0, (int)random.Next(1, 30)).Select(_ => unchecked((byte)random.NextBits()))];
            long rate = Rates[random.Next(0, Rates.Length)];
            LineSynthesiser line = new((ulong)i);
            line.Idle(50 + 10 * random.NextDouble());
            for (int packet = 0; packet < PacketsEach; packet++)
            {
                line.Levels(form, slots);
            }

            line.Packet(form with { Break = 200 });
            line.Idle(20);
            LineTimingAnalyzer analyzer = new(null, clockPpm: 100);
            LineRun run = Run(new LineRecording(rate, [new LineTrack("x", line.Signal)]), analyzer);

            string about = $"timing {i}: {form} at {rate}";
            Assert.True(run.Frames.Count == PacketsEach, about + $": {run.Frames.Count} packets");
            Assert.All(run.Frames, frame => Assert.Equal(slots, frame.Slots));
            double sample = 1e6 / rate;
            for (int packet = 0; packet < PacketsEach; packet++)
            {
                SentLinePacket sent = line.Sent[packet];
                LineTiming measured = run.Timings[packet];
                Near((sent.BreakEnd - sent.BreakStart) / 1e3, measured.Break, sample, about);
                Near((sent.FirstStart - sent.BreakEnd) / 1e3, measured.MarkAfterBreak, sample, about);
                Near((line.Sent[packet + 1].BreakStart - sent.BreakStart) / 1e3, measured.BreakToBreak, sample, about);
                Near(form.MarkBeforeBreak, measured.MarkBeforeBreak, sample + 11 * measured.BitTimeResolution * 3, about);
            }

            IReadOnlyList<TimingMeasurement> figures = LineTimings.Measure(analyzer, run.Channels);
            Held(figures, "break", form.Break, 92, 88, about, verdicts);
            Held(figures, "markAfterBreak", form.MarkAfterBreak, 12, 8, about, verdicts);
        }

        // Every verdict came out often: the check is no empty one.
        Assert.All(
            new[] { LimitVerdict.Inside, LimitVerdict.OutsideTransmit, LimitVerdict.OutsideReceive, LimitVerdict.Undecided },
            verdict => Assert.InRange(verdicts[verdict], 500, 2 * Timings));
    }

    private static void Held(
        IReadOnlyList<TimingMeasurement> figures, string quantity, double truth, double transmit, double receive, string about, Dictionary<LimitVerdict, int> verdicts)
    {
        TimingMeasurement figure = figures.First(each => each.Quantity == quantity);
        double uncertainty = figure.Resolution!.Value + figure.Min!.Value * 100e-6;
        bool right = figure.Verdict switch
        {
            LimitVerdict.Inside => truth >= transmit,
            LimitVerdict.OutsideTransmit => truth < transmit && truth >= receive,
            LimitVerdict.OutsideReceive => truth < receive,
            _ => Math.Abs(figure.Min.Value - transmit) <= uncertainty + 1e-9 || Math.Abs(figure.Min.Value - receive) <= uncertainty + 1e-9,
        };
        Assert.True(right, $"{about}: {quantity} {truth} measured {figure.Min} +- {uncertainty}: {figure.Verdict}");
        Assert.Equal(PacketsEach, figure.Packets!.All);
        verdicts[figure.Verdict] = verdicts.GetValueOrDefault(figure.Verdict) + 1;
    }

    private static void Near(double truth, double measured, double sample, string about) =>
        Assert.True(Math.Abs(truth - measured) <= sample + 1e-6, $"{about}: {measured} for {truth}");

    private static double Round(SeededRandom random, double from, double below) =>
        Math.Round(from + (below - from) * random.NextDouble(), 2);

    private static LineRun Run(LineRecording recording, LineTimingAnalyzer analyzer)
    {
        LineRun run = new() { Decoder = new RecordDecoder() };
        using LineRecordingSource source = recording.Open();
        new Session(source, run.Decoder, new FanOut(run, analyzer)).Run(CancellationToken.None);
        return run;
    }
}
