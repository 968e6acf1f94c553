using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Locate;

/// <summary>What the words of an answer are made from, beside the result.</summary>
/// <param name="Question">What the inference was told.</param>
/// <param name="Sheet">The patch sheet.</param>
/// <param name="Charts">The charts.</param>
/// <param name="Unit">The unit asked about.</param>
/// <param name="SheetUniverses">The sheet's number of each history's universe; -1 where the sheet has none.</param>
public sealed record LocateCase(
    LocateQuestion Question,
    PatchSheet Sheet,
    ChartSet Charts,
    PatchUnit Unit,
    IReadOnlyList<int> SheetUniverses);
