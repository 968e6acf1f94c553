using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>
/// Two or more sACN sources share the highest priority of a universe: what a receiver then does is its own choice
/// (E1.31-2018 sections 6.2.3.1 to 6.2.3.6). An overlap of up to 3 s is what a restarted source leaves behind, whose old
/// identity counts for 2.5 s more.
/// </summary>
internal sealed class EqualPriorityRule : ISurveyRule
{
    private static readonly Duration Handover = Duration.FromSeconds(3);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (UniverseSummary universe in snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.Sacn))
        {
            ObeyedSpan[] shared = [.. universe.Obeyed.Where(span => span.Senders.Count > 1)];
            if (shared.Length == 0)
            {
                continue;
            }

            Duration total = shared.Aggregate(Duration.Zero, (sum, span) => sum + (span.To - span.From));
            int[] senders = [.. shared.SelectMany(span => span.Senders).Distinct()];
            StreamSummary[] streams = [.. universe.Streams.Where(stream => senders.Contains(stream.Sender.Index))];
            string names = Words.List(streams.Select(stream => Words.Name(stream.Sender)));
            bool isHandover = total <= Handover;
            yield return new Finding
            {
                Id = "senders-at-equal-priority",
                Severity = isHandover ? Severity.Info : Severity.Fault,
                Subject = universe.Id.Label,
                Text = $"{universe.Id.Label} has {Number(streams.Length)} senders at the same priority "
                    + Words.Invariant($"{shared[0].Priority}: {names}; ")
                    + (isHandover
                        ? $"for {Words.Seconds(total)} only, as when one takes over from the other."
                        : "receivers may mix them, keep one or flicker between both."),
                Measured = Words.Invariant($"{streams.Length} senders at priority {shared[0].Priority} for {Words.Seconds(total)}"),
                Limit = "one sender at the highest priority",
                LimitSource = "E1.31-2018 6.2.3: what receivers do with several is their own choice",
                From = shared[0].From,
                To = shared[^1].To,
                FirstRecord = streams.Max(stream => stream.FirstRecord),
                Action = isHandover ? "Nothing, if one was meant to take over." : "Switch off the sender that should not be there, or give it a lower priority.",
                Cautions = isHandover
                    ? []
                    : ["Before a sender is silenced: people clear of moving parts, work light on; the look can change at once."],
            };
        }
    }

    private static string Number(int count) => count switch
    {
        2 => "two",
        3 => "three",
        4 => "four",
        _ => Words.Invariant($"{count}"),
    };
}
