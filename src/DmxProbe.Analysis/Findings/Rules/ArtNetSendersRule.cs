using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

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
            ObeyedSpan[] shared = [.. universe.Obeyed.Where(span => span.Senders.Count > 1)];
            if (shared.Length == 0)
            {
                continue;
            }

            int most = shared.Max(span => span.Senders.Count);
            int[] senders = [.. shared.SelectMany(span => span.Senders).Distinct()];
            string names = Words.List(universe.Streams
                .Where(stream => senders.Contains(stream.Sender.Index))
                .Select(stream => Words.Name(stream.Sender)
                    + (stream.Sender.Physical > 0 ? Words.Invariant($" Physical {stream.Sender.Physical}") : "")));
            yield return new Finding
            {
                Id = "several-art-net-senders",
                Severity = most > MostMerged ? Severity.Fault : Severity.Warning,
                Subject = universe.Id.Label,
                Text = $"{universe.Id.Label} comes from several senders at once: {names}; a device merges two of them "
                    + (most > MostMerged ? "and ignores the others." : "(highest or latest value, as it is set) or keeps to one."),
                Measured = Words.Count(most, "sender") + " at once",
                Limit = "2 senders",
                LimitSource = "Art-Net 4 (1.4dn) pages 76 and 77",
                From = shared[0].From,
                To = shared[^1].To,
                Action = "If only one should send, switch the other off; the merge lets go 10 s later.",
                Cautions = ["Before a sender is silenced: people clear of moving parts, work light on; the look can change at once."],
            };
        }
    }
}
