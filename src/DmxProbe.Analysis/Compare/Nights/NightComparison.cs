namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>Two nights of one show, held against each other.</summary>
/// <param name="CuesLastNight">Cues that the wire showed last night.</param>
/// <param name="CuesTonight">Cues tonight.</param>
/// <param name="CuesInBoth">Cues found in both.</param>
/// <param name="Differences">What is other, what matters most first.</param>
/// <param name="LooksCompared">Looks that stood for 2 s or more both nights, and were compared.</param>
/// <param name="Running">Units (slots without a sheet) with slots that ran effects, and were left out where they did.</param>
/// <param name="Notes">What was not compared.</param>
public sealed record NightComparison(
    int CuesLastNight,
    int CuesTonight,
    int CuesInBoth,
    IReadOnlyList<NightDifference> Differences,
    int LooksCompared,
    int Running,
    IReadOnlyList<string> Notes)
{
    /// <summary>Whether levels were held against each other: a cue was found in both nights, or a look stood in both.</summary>
    public bool IsCompared => CuesInBoth > 0 || LooksCompared > 0;
}
