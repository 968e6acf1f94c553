namespace DmxProbe.Analysis.Conformance;

/// <summary>One rule that a network capture is held against.</summary>
/// <param name="Id">Id of the findings it gives.</param>
/// <param name="Text">The rule in one sentence of ours.</param>
/// <param name="Document">Document and clause or page; empty for common practice.</param>
/// <param name="Certainty">How it is known.</param>
public sealed record Rule(string Id, string Text, string Document, Certainty Certainty)
{
    /// <summary>What a finding prints as the source of its limit. Only what was read is given as a bare clause.</summary>
    public string Source => Certainty switch
    {
        Certainty.Read => Document,
        Certainty.Derived => "follows from " + Document,
        Certainty.Secondary => Document + ", by secondary sources",
        _ => "common practice, no source",
    };
}
