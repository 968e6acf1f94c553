namespace DmxProbe.Analysis.Locate.Together;

/// <summary>A finding about several units in words. Names from files are escaped.</summary>
/// <param name="Finding">The finding.</param>
/// <param name="Sentence">What, one sentence.</param>
/// <param name="Action">What to do, and what to check before.</param>
public sealed record RowStatement(RowFinding Finding, string Sentence, string Action);
