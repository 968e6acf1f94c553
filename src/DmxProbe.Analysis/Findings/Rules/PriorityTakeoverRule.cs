using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>The sender that receivers obey changed while several were present: a backup took over, or a stray priority did.</summary>
internal sealed class PriorityTakeoverRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (UniverseSummary universe in snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.Sacn))
        {
            ObeyedSpan[] single = [.. universe.Obeyed.Where(span => span.Senders.Count == 1)];
            int changes = 0;
            for (int i = 1; i < single.Length; i++)
            {
                changes += single[i].Senders[0] != single[i - 1].Senders[0] ? 1 : 0;
            }

            if (changes == 0)
            {
                continue;
            }

            string turns = string.Join(", then ", single.Take(4).Select(span => Turn(universe, span)));
            yield return new Finding
            {
                Id = "obeyed-sender-changed",
                Severity = Severity.Info,
                Subject = universe.Id.Label,
                Text = $"{universe.Id.Label}: the sender that receivers obey changed {Words.Count(changes, "time")}: "
                    + turns + (single.Length > 4 ? ", and on." : "."),
                Measured = Words.Count(changes, "change"),
                LimitSource = "E1.31-2018 6.2.3: the highest priority wins",
                From = single[0].To,
                To = single[^1].From,
                Action = "If nobody changed over on purpose, look at the priorities of these senders.",
            };
        }
    }

    private static string Turn(UniverseSummary universe, ObeyedSpan span)
    {
        SenderSummary? sender = universe.Streams.FirstOrDefault(stream => stream.Sender.Index == span.Senders[0])?.Sender;
        return (sender is null ? "another" : Words.Name(sender))
            + Words.Invariant($" at priority {span.Priority} for {Words.Seconds(span.To - span.From)}");
    }
}
