using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Frames that are legal or nearly so and still surprise: draft layout, preview, changing slot counts, rates above a line's.</summary>
internal sealed class UnusualFramesRule : ISurveyRule
{
    // 512 slots, shortest break and mark, clock 2 % fast (standards-facts A5): 44.995 Hz; computed, limits from secondary sources.
    private const double FastestLine = 45.0;
    private const int WholeUniverse = 512;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        from stream in universe.Streams
        from finding in Judge(universe, stream)
        select finding with
        {
            Subject = universe.Id.Label,
            From = stream.First,
            To = stream.Last,
            FirstRecord = stream.FirstRecord,
        };

    private static IEnumerable<Finding> Judge(UniverseSummary universe, StreamSummary stream)
    {
        string who = $"{universe.Id.Label} from {Words.Name(stream.Sender)}";
        if (stream.DraftFrames > 0)
        {
            yield return Make(
                "draft-layout",
                Severity.Warning,
                $"{who}: {Words.Count(stream.DraftFrames, "frame")} in the layout of the draft before E1.31 was ratified; newer receivers "
                + "do not understand it.",
                "Switch the sender to ratified sACN if it can.");
        }

        if (stream.PreviewFrames > 0)
        {
            yield return Make(
                "preview-data",
                stream.PreviewFrames == stream.Frames ? Severity.Warning : Severity.Info,
                $"{who}: {Words.Count(stream.PreviewFrames, "frame")} marked as preview, which must not drive live output.",
                "If lights should follow this sender, switch its preview off.");
        }

        if (stream.SlotCounts.Count > 1)
        {
            yield return Make(
                "slot-count-varies",
                Severity.Info,
                $"{who}: sends {Words.List(stream.SlotCounts.Select(count => Words.Invariant($"{count.Value} slots ({Words.Count(count.Count, "frame")})")))}"
                + "; a unit past the shorter count is updated only by the longer frames.",
                "Set the sender to a fixed number of slots if units at the end lag or stay dark.");
        }

        if (universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet && stream.RateHz > FastestLine && !IsSeenTwice(stream) && stream.SlotCounts.Any(count => count.Value == WholeUniverse))
        {
            yield return Make(
                "faster-than-a-line",
                Severity.Info,
                Words.Invariant($"{who}: sends at {stream.RateHz:0.0} Hz; a DMX512 line carries 512 slots at most about 45 times a second, ")
                + "so a gateway leaves frames out.",
                "Lower the sender's rate where gateways feed lines.");
        }
    }

    // Packets captured twice make a rate that nobody sends.
    private static bool IsSeenTwice(StreamSummary stream) => stream.Repeats is { } repeats && repeats.Captured > stream.Frames / 5;

    private static Finding Make(string id, Severity severity, string text, string action) =>
        new() { Id = id, Severity = severity, Subject = "", Text = text, LimitSource = RuleBook.SourceOf(id), Action = action };
}
