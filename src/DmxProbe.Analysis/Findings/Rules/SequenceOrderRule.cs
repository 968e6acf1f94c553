using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Sequence numbers that repeat, run backwards, restart, never change or are not used.</summary>
internal sealed class SequenceOrderRule : ISurveyRule
{
    private const int EnoughToJudge = 20;
    private const double NearlyAll = 0.9;
    private const double ManyOutOfOrder = 0.001;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        (from universe in snapshot.Universes
         from stream in universe.Streams
         from finding in Judge(universe, stream)
         select finding).Concat(NotUsed(snapshot));

    private static IEnumerable<Finding> Judge(UniverseSummary universe, StreamSummary stream)
    {
        long counted = stream.Sequence.Counted;
        if (counted > EnoughToJudge && stream.Sequence.Repeated > NearlyAll * counted)
        {
            yield return About(universe, stream) with
            {
                Id = "sequence-stuck",
                Severity = Severity.Fault,
                Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: the sequence number never changes, so "
                    + (universe.Id.Protocol == UniverseProtocol.Sacn
                        ? "conforming receivers discard nearly every packet."
                        : "receivers that check it may discard nearly every packet."),
                Measured = Words.Invariant($"{stream.Sequence.Repeated} of {counted} packets repeat the number before"),
                LimitSource = universe.Id.Protocol == UniverseProtocol.Sacn
                    ? "E1.31-2018 6.2.5 and 6.7.2"
                    : "Art-Net 4 (1.4dn) page 74: 1 to 255 and round again, or 0",
                Action = "The sender's software is at fault; receivers that ignore the number still follow it.",
            };
            yield break;
        }

        if (stream.Sequence.OutOfOrder > 0)
        {
            yield return About(universe, stream) with
            {
                Id = "packets-out-of-order",
                Severity = stream.Sequence.OutOfOrder > ManyOutOfOrder * counted ? Severity.Warning : Severity.Info,
                Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: "
                    + $"{Words.Count(stream.Sequence.OutOfOrder, "packet")} out of order; "
                    + (universe.Id.Protocol == UniverseProtocol.Sacn
                        ? "conforming receivers discard them."
                        : "receivers that check the sequence discard them."),
                Measured = Words.Invariant($"{stream.Sequence.OutOfOrder} of {counted} packets"),
                LimitSource = universe.Id.Protocol == UniverseProtocol.Sacn ? "E1.31-2018 6.7.2" : "",
                Action = "Look for two paths through the network, or two programs that send as one.",
            };
        }

        // Where it is known why packets came again, RepeatedPacketsRule says so.
        if (stream.Sequence.Repeated > (stream.Repeats?.Known ?? 0))
        {
            yield return About(universe, stream) with
            {
                Id = "repeated-packets",
                Severity = Severity.Info,
                Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: "
                    + $"{Words.Count(stream.Sequence.Repeated, "packet")} repeated with the same sequence number; a capture that sees "
                    + "both directions of a port shows everything twice.",
                Measured = Words.Invariant($"{stream.Sequence.Repeated} of {counted} packets"),
                LimitSource = RuleBook.SourceOf("repeated-packets"),
                Action = "Capture at one interface and one direction; if they still come twice, look for two outputs of the sender on one universe.",
            };
        }

        if (stream.Sequence.Restarts > 0)
        {
            yield return About(universe, stream) with
            {
                Id = "sequence-restarted",
                Severity = Severity.Info,
                Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: the sequence number jumped back "
                    + $"{Words.Count(stream.Sequence.Restarts, "time")}: the sender restarted, or two senders use one identity.",
                Measured = Words.Count(stream.Sequence.Restarts, "restart"),
                Action = "If nobody restarted it, look for a second program or a back-up with the same identity.",
                LimitSource = universe.Id.Protocol == UniverseProtocol.Sacn ? "E1.31-2018 6.7.2" : "",
            };
        }
    }

    // One finding per sender, not one per universe: it is a property of the sender's software.
    private static IEnumerable<Finding> NotUsed(SurveySnapshot snapshot)
    {
        var uncounted =
            from universe in snapshot.Universes
            where universe.Id.Protocol == UniverseProtocol.ArtNet
            from stream in universe.Streams
            where stream.Sequence.Counted == 0
            group (Universe: universe, Stream: stream) by stream.Sender.Index;
        foreach (var sender in uncounted)
        {
            StreamSummary first = sender.First().Stream;
            yield return new Finding
            {
                Id = "sequence-not-used",
                Severity = Severity.Info,
                Subject = Words.Name(first.Sender),
                Text = $"{Words.Name(first.Sender)} sends Art-Net with sequence number 0 (not used) on "
                    + Words.List(sender.Select(pair => Words.Invariant($"Port-Address {pair.Universe.Id.Number}")))
                    + ": losses cannot be counted there.",
                LimitSource = "Art-Net 4 (1.4dn) page 74: 0 switches the sequence off",
                Action = "To have losses counted, switch the sequence on at the sender if it can.",
                From = first.First,
                To = sender.Max(pair => pair.Stream.Last),
                FirstRecord = first.FirstRecord,
            };
        }
    }

    private static Finding About(UniverseSummary universe, StreamSummary stream) => new()
    {
        Id = "",
        Severity = Severity.Info,
        Subject = universe.Id.Label,
        Text = "",
        From = stream.First,
        To = stream.Last,
        FirstRecord = stream.FirstRecord,
    };
}
