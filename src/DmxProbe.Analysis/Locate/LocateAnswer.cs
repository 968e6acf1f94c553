namespace DmxProbe.Analysis.Locate;

/// <summary>The answer in words. Names from files are escaped.</summary>
/// <param name="Claim">What is claimed.</param>
/// <param name="AsTheSheetSays">Whether the unit reads what the sheet says (only with a claim).</param>
/// <param name="Sentence">The answer, one sentence.</param>
/// <param name="Explanation">The human error that explains it, or what stands in the way; may be empty.</param>
/// <param name="Action">What to set; empty where nothing is to be done or known.</param>
/// <param name="NextStep">The look that confirms or splits, or the best next step.</param>
/// <param name="Evidence">What it rests on, a line each.</param>
/// <param name="Cautions">What to say before anybody acts.</param>
public sealed record LocateAnswer(
    LocateClaim Claim,
    bool AsTheSheetSays,
    string Sentence,
    string Explanation,
    string Action,
    string NextStep,
    IReadOnlyList<string> Evidence,
    IReadOnlyList<string> Cautions)
{
    /// <summary>Whether it claims an address, or one of a class that no light tells apart.</summary>
    public bool IsClaim => Claim is LocateClaim.Found or LocateClaim.Class;

    /// <summary>The explanation where the sentence does not hold it already; else empty.</summary>
    public string FurtherExplanation => Sentence.Contains(Explanation, StringComparison.Ordinal) ? "" : Explanation;
}
