using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>
/// Several Art-Net senders on one Port-Address: a device merges two of them by HTP or LTP and ignores a third, or treats
/// it as an error (Art-Net 4, 1.4dn, pages 76 and 77).
/// </summary>
internal sealed class ArtNetSendersRule : ISurveyRule
{
    private const int MostMerged = 2;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (UniverseSummary universe in snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.ArtNet))
        {
            ObeyedSpan[] several = [.. universe.Obeyed.Where(span => span.Present > 1)];
            if (several.Length == 0)
            {
                continue;
            }

            // With more than two the finding is about the time in which they were more than two: a device merges two by design.
            int most = several.Max(span => span.Present);
            ObeyedSpan[] shared = most > MostMerged ? [.. several.Where(span => span.Present > MostMerged)] : several;
            int[] senders = [.. shared.SelectMany(Present).Distinct()];
            StreamSummary[] streams = [.. universe.Streams.Where(stream => senders.Contains(stream.Sender.Index))];
            string names = Words.List(streams.Select(stream => Words.Name(stream.Sender)
                + (stream.Sender.Physical > 0 ? Words.Invariant($" Physical {stream.Sender.Physical}") : "")));
            Timestamp to = LastSent(shared[^1], universe);
            bool isOver = most > MostMerged;
            string measured = Words.Count(most, "sender") + " at once" + (to > shared[0].From ? $" for {Words.Seconds(to - shared[0].From)}" : "");
            yield return new Finding
            {
                Id = "several-art-net-senders",
                Severity = isOver ? Severity.Fault : Severity.Warning,
                Subject = universe.Id.Label,
                Text = isOver
                    ? $"{universe.Id.Label} comes from {Words.Invariant($"{most}")} senders at once: {names}; a device merges two of them and ignores the others."
                    : $"{universe.Id.Label} comes from two senders at once: {names}; devices merge them (highest or latest value, as each is set), so lights may show a mix that neither sends.",
                Measured = measured,
                Limit = isOver ? "2 senders" : "",
                LimitSource = RuleBook.SourceOf("several-art-net-senders"),
                From = shared[0].From,
                To = to,
                FirstRecord = streams.Where(stream => stream.First == shared[0].From).Select(stream => stream.FirstRecord).FirstOrDefault(),
                Action = isOver
                    ? "Leave one sender, or two that are meant to be merged, and switch the others off; the merge lets go 10 s later."
                    : "If both are meant to send, nothing; else switch off the one that is not, and the merge lets go 10 s later.",
                Cautions = ["Before a sender is silenced: people clear of moving parts, work light on; the look can change at once."],
            };
        }
    }

    private static IEnumerable<int> Present(ObeyedSpan span) => span.Senders.Concat(span.Ignored);

    // A sender that fails is held for 10 s more: what was sent at once ends with the last packet of the first that stops.
    private static Timestamp LastSent(ObeyedSpan span, UniverseSummary universe)
    {
        int[] present = [.. Present(span)];
        bool oneLeft = universe.Obeyed.FirstOrDefault(next => next.From == span.To) is { } after && present.Except(Present(after)).Any();
        Timestamp to = oneLeft ? span.To - ProtocolTimes.LossOf(universe.Id.Protocol) : span.To;
        foreach (StreamSummary stream in universe.Streams)
        {
            to = present.Contains(stream.Sender.Index) && stream.Last >= span.From && stream.Last < to ? stream.Last : to;
        }

        return to > span.From ? to : span.From;
    }
}
