using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>ArtSync that devices ignore, or that stopped (Art-Net 4, 1.4dn, pages 77 to 79).</summary>
internal sealed class ArtSyncRule : ISurveyRule
{
    private const int EnoughToJudge = 3;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (ArtSyncSummary sync in snapshot.ArtSyncSenders)
        {
            if (sync.Foreign >= EnoughToJudge && sync.Foreign * 2 > sync.Packets)
            {
                yield return About(sync, "art-sync-foreign", Severity.Warning) with
                {
                    Text = $"{sync.Address} sends ArtSync, but ArtDmx comes from other addresses only: devices ignore such ArtSync and act at once.",
                    Measured = Words.Invariant($"{sync.Foreign} of {sync.Packets} ArtSync packets"),
                    Action = "Let the machine that sends the levels send the ArtSync.",
                };
            }

            if (sync.FramesAfterStop > 0 && sync.Packets >= EnoughToJudge)
            {
                yield return About(sync, "art-sync-stopped", Severity.Info) with
                {
                    Text = $"{sync.Address} stopped sending ArtSync while its ArtDmx went on; devices act at once again 4 s later.",
                    Measured = Words.Count(sync.FramesAfterStop, "ArtDmx packet") + " after that",
                    Limit = "4 s",
                    Action = "If looks should change together, start ArtSync again at its sender.",
                    From = sync.StoppedFrom,
                    To = snapshot.Last ?? sync.StoppedFrom,
                };
            }
        }

        if (snapshot.ArtSyncSenders.Count == 0)
        {
            yield break;
        }

        foreach (UniverseSummary universe in snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.ArtNet))
        {
            ObeyedSpan[] merged = [.. universe.Obeyed.Where(span => Addresses(universe, span) > 1
                && snapshot.ArtSyncSenders.Any(sync => sync.First <= span.To && sync.Last >= span.From))];
            if (merged.Length > 0)
            {
                yield return About(snapshot.ArtSyncSenders[0], "art-sync-while-merging", Severity.Warning) with
                {
                    Subject = universe.Id.Label,
                    Text = $"{universe.Id.Label} is merged from several addresses, and devices ignore ArtSync as long as they merge.",
                    From = merged[0].From,
                    To = merged[^1].To,
                    FirstRecord = 0,
                    Action = "Leave one sender on this Port-Address, or do without ArtSync; until then looks change device by device.",
                    Cautions = [Caution.Silencing],
                };
            }
        }
    }

    private static int Addresses(UniverseSummary universe, ObeyedSpan span) => universe.Streams
        .Where(stream => span.Senders.Contains(stream.Sender.Index))
        .Select(stream => stream.Sender.Address)
        .Distinct()
        .Count();

    private static Finding About(ArtSyncSummary sync, string id, Severity severity) => new()
    {
        Id = id,
        Severity = severity,
        Subject = sync.Address,
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = sync.First,
        To = sync.Last,
        FirstRecord = sync.FirstRecord,
    };
}
