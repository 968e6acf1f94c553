using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>ArtDmx and ArtNzs Length fields that the rules do not allow (even, 2 to 512; Art-Net 4, 1.4dn, page 74).</summary>
internal sealed class ArtNetLengthRule : ISurveyRule
{
    private const int MostSlots = 512;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (EventCount seen in snapshot.Events.Where(each => each.Kind == LinkEventKind.ArtLengthOdd))
        {
            string why = seen.A > MostSlots ? "more than the 512 slots of a universe"
                : seen.A < 2 ? "less than the two slots allowed"
                : "an odd number";
            yield return new Finding
            {
                Id = "art-net-length",
                Severity = seen.A is > MostSlots or < 1 ? Severity.Warning : Severity.Info,
                Subject = seen.Universe.Label,
                Text = $"{seen.Universe.Label}"
                    + (seen.Sender is null ? "" : $" from {Words.Name(seen.Sender)}")
                    + Words.Invariant($": {Words.Count(seen.Count, "packet")} with Length {seen.A}, {why}; the first held ")
                    + Words.Count(seen.B, "octet") + " of slots. Strict receivers refuse such packets.",
                Measured = Words.Invariant($"Length {seen.A}, {seen.B} octets present"),
                Limit = "even, 2 to 512",
                LimitSource = "Art-Net 4 (1.4dn) page 74",
                From = seen.First,
                To = seen.Last,
                FirstRecord = seen.FirstRecord,
                Action = "The sender's software is at fault; send whole universes if it can.",
            };
        }
    }
}
