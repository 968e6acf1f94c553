using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>What is to be said of one sender on one universe beside its row in the table.</summary>
internal static class StreamText
{
    private const int MostPriorities = 8;

    /// <summary>Writes the remarks: one paragraph of a few short clauses.</summary>
    public static void Write(TextPage page, StreamSummary stream, string name, SurveySnapshot survey, WallClock clock, bool all)
    {
        List<string> clauses = [.. Identity(stream, name)];
        if (stream.Priorities.Count > 0)
        {
            clauses.Add(Priorities(stream, clock, all));
        }

        clauses.AddRange(Presence(stream, survey, clock));
        if (stream.Intervals is IntervalStatistics intervals && intervals.Count > 0)
        {
            clauses.Add(
                $"between frames {Figures.Time(intervals.Median)} median, {(intervals.Count >= IntervalStatistics.EnoughFor99 ? $"{Figures.Time(intervals.P99)} at 99 %, " : "")}longest silent for {Figures.Time(intervals.Maximum)} from {clock.Time(stream.LongestSilenceFrom)} ({Figures.Count(intervals.Count, "interval")})");
        }

        clauses.AddRange(Content(stream));
        page.Paragraph($"{name}: {string.Join("; ", clauses)}.", indent: 2);
    }

    private static IEnumerable<string> Identity(StreamSummary stream, string name)
    {
        if (!name.Contains(stream.Sender.Address, StringComparison.Ordinal))
        {
            yield return stream.Sender.Address;
        }

        if (stream.Sender.Addresses.Count > 1)
        {
            yield return "also from " + string.Join(", ", stream.Sender.Addresses.Where(address => address != stream.Sender.Address));
        }

        if (stream.Sender.Cid.Length > 0 && !name.Contains(stream.Sender.Cid, StringComparison.Ordinal))
        {
            yield return "CID " + stream.Sender.Cid;
        }

        if (stream.Sender.Physical > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"Physical {stream.Sender.Physical}");
        }
    }

    private static string Priorities(StreamSummary stream, WallClock clock, bool all)
    {
        if (stream.Priorities.Count == 1 && stream.PrioritiesNotListed == 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"priority {stream.Priorities[0].Value} throughout");
        }

        int shown = all ? stream.Priorities.Count : Math.Min(MostPriorities, stream.Priorities.Count);
        string text = "priority " + string.Join(
            ", then ",
            stream.Priorities.Take(shown).Select(span =>
                string.Create(CultureInfo.InvariantCulture, $"{span.Value} from {clock.Time(span.From)} to {clock.Time(span.To)}")));
        long left = stream.PrioritiesNotListed + stream.Priorities.Count - shown;
        return left > 0 ? $"{text} and {Figures.Count(left, "more change")}" : text;
    }

    private static IEnumerable<string> Presence(StreamSummary stream, SurveySnapshot survey, WallClock clock)
    {
        if (stream.Terminated)
        {
            yield return $"terminated its stream at {clock.Time(stream.Last)} ({Figures.Count(stream.Terminations, "packet")})";
        }
        else if (stream.Silent && survey.Last is Timestamp end)
        {
            yield return $"silent for {Figures.Time(Figures.Between(stream.Last, end))} since {clock.Time(stream.Last)}{(IsNetwork(stream) ? ", without termination" : "")}";
        }

        if (stream.Returns > 0)
        {
            yield return $"went away and came back {Figures.Count(stream.Returns, "time")}";
        }

        if (stream.Sequence.Counted == 0 && IsNetwork(stream))
        {
            yield return "does not number its packets, so losses cannot be counted";
        }

        if (stream.Sequence.Restarts > 0)
        {
            yield return $"restarted its sequence {Figures.Count(stream.Sequence.Restarts, "time")}";
        }
    }

    private static bool IsNetwork(StreamSummary stream) => stream.Sender.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet;

    private static IEnumerable<string> Content(StreamSummary stream)
    {
        if (stream.SlotCounts.Count > 1)
        {
            yield return "slots sent " + string.Join(
                ", ",
                stream.SlotCounts.OrderByDescending(count => count.Count).Take(5).Select(count =>
                    string.Create(CultureInfo.InvariantCulture, $"{count.Value} in {Figures.Count(count.Count, "frame")}")))
                + (stream.SlotCounts.Count > 5 ? $" and {stream.SlotCounts.Count - 5} more counts" : "");
        }

        foreach (CountOf code in stream.StartCodes.Where(code => code.Value != 0).Take(8))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"START code 0x{code.Value:X2} in {Figures.Count(code.Count, "frame")}");
        }

        if (stream.PreviewFrames > 0)
        {
            yield return Figures.Count(stream.PreviewFrames, "frame") + " of preview data, not meant for output";
        }

        if (stream.DraftFrames > 0)
        {
            yield return Figures.Count(stream.DraftFrames, "frame") + " in the layout of the draft before ratification";
        }

        if (stream.CutFrames > 0)
        {
            yield return Figures.Count(stream.CutFrames, "frame")
                + (IsNetwork(stream) ? " with slots cut off by the capture's snap length" : " cut by the end of the recording");
        }

        if (stream.SyncAddresses.Count > 0)
        {
            yield return "synchronization address " + string.Join(", ", stream.SyncAddresses);
        }

        if (stream.SecondInstances > 0)
        {
            yield return Figures.Count(stream.SecondInstances, "packet") + " came a second time over the other IP version and are not counted";
        }
    }
}
