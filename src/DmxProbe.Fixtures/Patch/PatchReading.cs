using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>What came of reading a patch sheet: the sheet, or why it is refused.</summary>
/// <param name="Sheet">The sheet; null when it is refused.</param>
/// <param name="Problems">Why it is refused, in the order of the file, at most 20; empty when it is not.</param>
/// <param name="Recognition">What was recognised; null when the file is no table.</param>
public sealed record PatchReading(PatchSheet? Sheet, IReadOnlyList<TableProblem> Problems, PatchRecognition? Recognition = null)
{
    /// <summary>The charts that came with the sheet; none but for an MVR file.</summary>
    public IReadOnlyList<Chart> Charts { get; init; } = [];
}
