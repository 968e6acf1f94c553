using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Charts;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Speed of locating after decoding, on all cores: <c>locate-speed [--repeat N]</c>. The yardstick in the same run, on one thread, is
/// a direct float correlation of the same hypotheses over the same samples and delays, at one exponent, without spill: each is
/// predicted sample by sample, because that is where its light comes from. The ratio is of processor times, which other work on
/// the machine does not change.
/// </summary>
public static class LocateSpeed
{
    private const int Delays = 16;

    /// <summary>Runs both sizes and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        int repeat = arguments is ["--repeat", string count] ? int.Parse(count, CultureInfo.InvariantCulture) : 5;
        Console.WriteLine("| case | live hypotheses | first run, ms | inference, median ms | processor time, median ms | yardstick, processor ms | of which correlating | yardstick / inference |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|");
        Measure("60 s x 3 universes, 320 slots used", Small(false), repeat);
        Measure("60 s x 3 universes, all slots used", Small(true), repeat);
        Measure("10 min x 32 universes, all slots used", Large(32), Math.Min(repeat, 3));
        Measure("10 min x 200 universes, all slots used", Large(200), Math.Min(repeat, 3));
        return 0;
    }

    private static void Measure(string name, LocateQuestion question, int repeat)
    {
        long start = Stopwatch.GetTimestamp();
        LocateResult result = LocateInference.Run(question);
        double first = Stopwatch.GetElapsedTime(start).TotalMilliseconds;

        // Again and again, so that the code is compiled for good.
        for (int i = 0; i < 40 && Stopwatch.GetElapsedTime(start).TotalSeconds < 6; i++)
        {
            result = LocateInference.Run(question);
        }

        double[] times = new double[repeat];
        double[] processor = new double[repeat];
        for (int i = 0; i < repeat; i++)
        {
            TimeSpan busy = Environment.CpuUsage.TotalTime;
            long before = Stopwatch.GetTimestamp();
            result = LocateInference.Run(question);
            times[i] = Stopwatch.GetElapsedTime(before).TotalMilliseconds;
            processor[i] = (Environment.CpuUsage.TotalTime - busy).TotalMilliseconds;
        }

        Array.Sort(processor);
        Array.Sort(times);
        TimeSpan idle = Environment.CpuUsage.TotalTime;
        (double predict, double correlate) = Yardstick(question);
        double yardstick = (Environment.CpuUsage.TotalTime - idle).TotalMilliseconds;
        double median = times[repeat / 2];
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| {name} | {result.Hypotheses} | {first:0} | {median:0} | {processor[repeat / 2]:0} | {yardstick:0} | {100 * correlate / (predict + correlate):0} % | {yardstick / processor[repeat / 2]:0.0} |"));
    }

    private static LocateQuestion Small(bool dense) => Rig.Draw(new RigOptions { Dense = dense }, 42).Question;

    /// <summary>Many rigs side by side: full universes and the sheet of all their units.</summary>
    private static LocateQuestion Large(int universes)
    {
        RigRandom random = new(4242);
        Timestamp start = Timestamp.FromUnixNanoseconds(0);
        List<SlotHistory> histories = [];
        List<OtherUnit> others = [];
        double[]? light = null;
        ChartMode mode = EvaluationCharts.Of("wash10").Modes[0];
        while (histories.Count < universes)
        {
            RigPlan plan = new(random, true);
            byte[][][] levels = RigShow.Run(plan, RigShowKind.Busy, 600 * SlotHistory.RatePerSecond, random);
            int first = histories.Count;
            for (int u = 0; u < RigPlan.Captured && histories.Count < universes; u++)
            {
                SlotHistory history = new(new UniverseId(UniverseProtocol.Sacn, histories.Count + 1), -1, start);
                for (int t = 0; t < levels[u].Length; t++)
                {
                    history.Record(t, levels[u][t]);
                }

                histories.Add(history);
            }

            others.AddRange(plan.Units
                .Where(unit => unit.OnSheet && first + unit.Universe < universes)
                .Select(unit => new OtherUnit(unit.Name, first + unit.Universe, unit.Address, unit.Mode)));
            if (light is null)
            {
                RigUnit unit = plan.Units.First(candidate => candidate.Mode == mode);
                light = new RigCamera(false, random).See(
                    RigLight.Of(levels[unit.Universe], unit.Address, mode, null),
                    [new double[levels[0].Length], new double[levels[0].Length], new double[levels[0].Length]], false, 10)[0];
            }
        }

        Timestamp[] times = [.. Enumerable.Range(0, light!.Length).Select(t => start + Duration.FromNanoseconds(t * 1_000_000_000L / SlotHistory.RatePerSecond))];
        return new LocateQuestion(histories, new LightTrace(times, [light]), [mode], others, []);
    }

    /// <summary>Predicts every address sample by sample and correlates it with the trace at every delay.</summary>
    private static (double Predict, double Correlate) Yardstick(LocateQuestion question)
    {
        LightModel model = new(question.Modes[0]);
        int samples = question.Trace!.Count - (Delays - 1);
        float[][] delayed = [.. Enumerable.Range(0, Delays).Select(d => Centred(question.Trace.Channel(0).Skip(d).Take(samples)))];
        byte[] frames = new byte[samples * SlotHistory.SlotCount];
        float[] light = new float[samples];
        double best = 0;
        TimeSpan predict = TimeSpan.Zero;
        TimeSpan correlate = TimeSpan.Zero;
        foreach (SlotHistory history in question.Histories)
        {
            Expand(history, samples, frames);
            for (int address = 1; address <= SlotHistory.SlotCount; address++)
            {
                int present = Math.Min(model.Mode.Footprint, SlotHistory.SlotCount + 1 - address);
                long before = Stopwatch.GetTimestamp();
                float sum = 0;
                for (int t = 0; t < samples; t++)
                {
                    light[t] = model.Predict(frames.AsSpan((t * SlotHistory.SlotCount) + address - 1, present)).Luminance;
                    sum += light[t];
                }

                predict += Stopwatch.GetElapsedTime(before);
                before = Stopwatch.GetTimestamp();
                float mean = sum / samples;
                for (int t = 0; t < samples; t++)
                {
                    light[t] -= mean;
                }

                float squares = Dot(light, light);
                for (int d = 0; d < Delays && squares > 1e-3f; d++)
                {
                    best = Math.Max(best, Dot(light, delayed[d]) / MathF.Sqrt(squares));
                }

                correlate += Stopwatch.GetElapsedTime(before);
            }
        }

        return best > 0 ? (predict.TotalMilliseconds, correlate.TotalMilliseconds) : (0, 0);
    }

    private static void Expand(SlotHistory history, int samples, byte[] frames)
    {
        for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
        {
            byte level = 0;
            int from = 0;
            foreach ((int at, byte next) in history.Changes(slot).Append((samples, (byte)0)))
            {
                for (int t = from; t < Math.Min(at, samples); t++)
                {
                    frames[(t * SlotHistory.SlotCount) + slot - 1] = level;
                }

                (from, level) = (at, next);
            }
        }
    }

    private static float[] Centred(IEnumerable<double> values)
    {
        float[] centred = [.. values.Select(value => (float)value)];
        float mean = centred.Average();
        return [.. centred.Select(value => value - mean)];
    }

    private static float Dot(float[] left, float[] right)
    {
        Vector<float> sum = Vector<float>.Zero;
        int i = 0;
        for (; i + Vector<float>.Count <= left.Length; i += Vector<float>.Count)
        {
            sum += new Vector<float>(left, i) * new Vector<float>(right, i);
        }

        float total = Vector.Sum(sum);
        for (; i < left.Length; i++)
        {
            total += left[i] * right[i];
        }

        return total;
    }
}
