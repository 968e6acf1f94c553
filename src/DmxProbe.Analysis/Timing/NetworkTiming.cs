using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// What a network capture can say about timing: rates, silences, keep-alive and slot counts as they arrived at the capture
/// point. The line's own figures are named as not measurable. What serial ports can say follows (<see cref="SerialTiming"/>).
/// </summary>
public static class NetworkTiming
{
    /// <summary>Clock error assumed where nothing is said, in parts per million.</summary>
    public const double DefaultClockPpm = 100;

    private const string Network = "network";
    internal static readonly string[] LineQuantities =
        ["break", "markAfterBreak", "slotTime", "interSlot", "markBeforeBreak", "breakToBreak"];

    /// <summary>Measures every sender of levels.</summary>
    /// <param name="survey">The survey of the capture.</param>
    /// <param name="clockPpm">Error of the capture's clock, in parts per million.</param>
    public static IReadOnlyList<TimingMeasurement> Measure(SurveySnapshot survey, double clockPpm = DefaultClockPpm)
    {
        double resolution = survey.Inputs
            .SelectMany(input => input.Interfaces)
            .Select(each => each.Resolution.TotalMilliseconds)
            .DefaultIfEmpty(0)
            .Max();
        List<TimingMeasurement> measured = [];
        foreach (UniverseSummary universe in survey.Universes.Where(each => each.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet))
        {
            foreach (StreamSummary stream in universe.Streams.Where(each => each.LevelFrames > 0))
            {
                measured.AddRange(Measure(universe.Id, stream, resolution, clockPpm * 1e-6));
            }
        }

        if (measured.Count > 0)
        {
            measured.AddRange(LineQuantities.Select(NotMeasurable));
        }

        measured.AddRange(SerialTiming.Measure(survey, clockPpm));
        return measured;
    }

    private static IEnumerable<TimingMeasurement> Measure(
        UniverseId universe, StreamSummary stream, double resolution, double clockError)
    {
        TimingMeasurement about = new()
        {
            Subject = $"{universe.Label} from {Words.Name(stream.Sender)}",
            Protocol = universe.Protocol,
            Quantity = "",
            Unit = "",
            MeasuredAt = Network,
            Verdict = LimitVerdict.Inside,
        };
        if (stream.RunningHz is double rate)
        {
            // The slots sent most often decide what a line could carry.
            int slots = stream.SlotCounts.MaxBy(count => count.Count).Value;
            yield return Judged(
                about with
                {
                    Quantity = "refreshRate",
                    Unit = "Hz",
                    Min = rate,
                    Median = rate,
                    Max = rate,
                    Count = stream.RunningIntervals,
                    Transmit = NetworkLimits.RefreshRate(universe.Protocol, slots),
                    Note = "while it runs (frames less than 250 ms apart), as survey has it; the mean rate, pauses counted, is in survey",
                },
                rate * clockError);
        }

        if (stream.Intervals is IntervalStatistics intervals)
        {
            double longest = intervals.Maximum.TotalMilliseconds;
            yield return Judged(
                about with
                {
                    Quantity = "silence",
                    Unit = "ms",
                    Min = intervals.Minimum.TotalMilliseconds,
                    Median = intervals.Median.TotalMilliseconds,
                    Max = longest,
                    Histogram = stream.IntervalBars,
                    Count = intervals.Count,
                    Resolution = resolution,
                    Transmit = NetworkLimits.SilenceTransmit(universe.Protocol),
                    Receive = NetworkLimits.SilenceReceive(universe.Protocol),
                },
                2 * resolution + longest * clockError);
        }

        if (stream.KeepAliveIntervals is IntervalStatistics keepAlive)
        {
            double longest = keepAlive.Maximum.TotalMilliseconds;
            yield return Judged(
                about with
                {
                    Quantity = "keepAlive",
                    Unit = "ms",
                    Min = keepAlive.Minimum.TotalMilliseconds,
                    Median = keepAlive.Median.TotalMilliseconds,
                    Max = longest,
                    Count = keepAlive.Count,
                    Resolution = resolution,
                    Transmit = NetworkLimits.KeepAlive(universe.Protocol),
                },
                2 * resolution + longest * clockError);
        }

        yield return Judged(
            about with
            {
                Quantity = "slotCount",
                Unit = "slots",
                Min = stream.SlotCounts[0].Value,
                Median = Median(stream.SlotCounts),
                Max = stream.SlotCounts[^1].Value,
                Count = stream.LevelFrames,
                Transmit = NetworkLimits.SlotCount(universe.Protocol),
            },
            uncertainty: 0);
    }

    internal static TimingMeasurement Judged(TimingMeasurement figure, double uncertainty)
    {
        LimitVerdict verdict = LimitRule.Judge(
            figure.Min!.Value,
            figure.Max!.Value,
            figure.Count,
            uncertainty,
            figure.Transmit,
            figure.Receive,
            out string against);
        return figure with { Verdict = verdict, UndecidedAgainst = against, MinUncertainty = uncertainty, MaxUncertainty = uncertainty };
    }

    internal static double Median(IReadOnlyList<CountOf> counts)
    {
        long half = (counts.Sum(count => count.Count) + 1) / 2;
        long seen = 0;
        foreach (CountOf count in counts)
        {
            seen += count.Count;
            if (seen >= half)
            {
                return count.Value;
            }
        }

        return counts[^1].Value;
    }

    private static TimingMeasurement NotMeasurable(string quantity) => new()
    {
        Subject = "DMX512 line",
        Protocol = UniverseProtocol.Line,
        Quantity = quantity,
        Unit = "us",
        MeasuredAt = Network,
        Verdict = LimitVerdict.NotMeasurable,
        Note = "only line edges show it: record the line with a logic recorder",
    };
}
