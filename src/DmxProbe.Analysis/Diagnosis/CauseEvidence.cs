using DmxProbe.Analysis.Findings;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>One thing seen that speaks for a cause. Texts may hold names as they came: whoever shows them escapes them.</summary>
/// <param name="Text">One sentence.</param>
public sealed record CauseEvidence(string Text)
{
    /// <summary>The figure with its unit; empty when there is none.</summary>
    public string Measured { get; init; } = "";

    /// <summary>What it was held against; empty when there is nothing.</summary>
    public string Limit { get; init; } = "";

    /// <summary>Where the limit is from; empty when there is none.</summary>
    public string LimitSource { get; init; } = "";

    /// <summary>Start of the span that shows it; null where it has no time.</summary>
    public Timestamp? From { get; init; }

    /// <summary>End of the span that shows it; null where it has no time.</summary>
    public Timestamp? To { get; init; }

    /// <summary>First record that shows it; 0 when no single record does.</summary>
    public long FirstRecord { get; init; }

    /// <summary>A finding of the survey as evidence.</summary>
    public static CauseEvidence Of(Finding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return new CauseEvidence(finding.Text)
        {
            Measured = finding.Measured,
            Limit = finding.Limit,
            LimitSource = finding.LimitSource,
            From = finding.From,
            To = finding.To,
            FirstRecord = finding.FirstRecord,
        };
    }
}
