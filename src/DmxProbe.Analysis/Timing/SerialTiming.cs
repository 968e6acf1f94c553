using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// What a serial port can say about timing: the mean rate over at least two seconds, the longest silence and the slots sent.
/// Adapters hand octets over in lumps, so single intervals mean nothing; the line's own figures are named as not measurable.
/// </summary>
public static class SerialTiming
{
    /// <summary>Longest lump in which USB adapters hand octets over, in ms: 1 to 16, common practice, no source.</summary>
    public const double LumpMilliseconds = 16;

    private const double LeastSeconds = 2;
    private const string E111 = "E1.11 (from secondary sources)";

    /// <summary>Measures every serial port that brought packets.</summary>
    /// <param name="survey">The survey of the capture.</param>
    /// <param name="clockPpm">Error of the capture's clock, in parts per million.</param>
    public static IReadOnlyList<TimingMeasurement> Measure(SurveySnapshot survey, double clockPpm = NetworkTiming.DefaultClockPpm) =>
    [
        .. from universe in survey.Universes
           where universe.Id.Protocol == UniverseProtocol.Serial
           from stream in universe.Streams
           from figure in Measure(universe.Id, stream, clockPpm * 1e-6)
           select figure,
    ];

    private static IEnumerable<TimingMeasurement> Measure(UniverseId universe, StreamSummary stream, double clockError)
    {
        bool isUart = stream.Sender.MeasuredAt == "uart";
        TimingMeasurement about = new()
        {
            Subject = $"{universe.Label} at {Words.Name(stream.Sender)}",
            Protocol = UniverseProtocol.Serial,
            Quantity = "",
            Unit = "",
            MeasuredAt = stream.Sender.MeasuredAt,
            Verdict = LimitVerdict.Inside,
        };
        if (stream.RunningHz is double rate && stream.SlotCounts.Count > 0)
        {
            int slots = stream.SlotCounts.MaxBy(count => count.Count).Value;
            double seconds = stream.RunningIntervals / rate;

            // Both ends of the run may be off by a lump.
            double uncertainty = rate * (clockError + (LumpMilliseconds / 1e3 / seconds));
            yield return NetworkTiming.Judged(
                about with
                {
                    Quantity = "refreshRate",
                    Unit = "Hz",
                    Min = rate,
                    Median = rate,
                    Max = rate,
                    Count = seconds < LeastSeconds ? Math.Min(stream.RunningIntervals, LimitRule.FewestToDecide - 1) : stream.RunningIntervals,
                    Resolution = uncertainty,
                    Transmit = new LimitRange(1, NetworkLimits.LineRateHz(slots), E111 + ": at most 1 s from break to break; the most that a line carries, computed for the slots sent with the clock 2 % fast"),
                    Note = seconds < LeastSeconds
                        ? "mean over less than 2 s: too short for a port that hands octets over in lumps"
                        : "mean while running; single intervals are not measurable here",
                },
                uncertainty);
        }

        if (stream.Intervals is IntervalStatistics intervals)
        {
            yield return NetworkTiming.Judged(
                about with
                {
                    Quantity = "silence",
                    Unit = "ms",
                    Min = intervals.Minimum.TotalMilliseconds,
                    Median = intervals.Median.TotalMilliseconds,
                    Max = intervals.Maximum.TotalMilliseconds,
                    Count = intervals.Count,
                    Resolution = LumpMilliseconds,
                    Transmit = new LimitRange(null, 1000, E111 + ": at most 1 s from break to break"),
                    Receive = new LimitRange(null, 1250, E111 + ": 1.25 s from break to break"),
                    Note = "lumps of up to 16 ms stretch and shorten single figures",
                },
                LumpMilliseconds + (intervals.Maximum.TotalMilliseconds * clockError));
        }

        if (stream.SlotCounts.Count > 0)
        {
            yield return NetworkTiming.Judged(
                about with
                {
                    Quantity = "slotCount",
                    Unit = "slots",
                    Min = stream.SlotCounts[0].Value,
                    Median = NetworkTiming.Median(stream.SlotCounts),
                    Max = stream.SlotCounts[^1].Value,
                    Count = stream.SlotCounts.Sum(count => count.Count),
                    Transmit = new LimitRange(null, 512, E111),
                },
                uncertainty: 0);
        }

        foreach (string quantity in NetworkTiming.LineQuantities)
        {
            yield return about with
            {
                Quantity = quantity,
                Unit = "us",
                Verdict = LimitVerdict.NotMeasurable,
                Note = isUart
                    ? "a serial port tells that a break came, not how long it was: record the line with a logic recorder"
                    : "the interface hands over whole packets, not edges: record the line with a logic recorder",
            };
        }
    }
}
