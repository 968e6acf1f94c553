using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>What came of reading a file that may hold several charts.</summary>
/// <param name="Charts">The charts; empty when the file is refused.</param>
/// <param name="Notes">What was left out, a sentence each; names in them are escaped.</param>
/// <param name="Problems">Why it is refused; empty when it is not.</param>
public sealed record ChartsReading(IReadOnlyList<Chart> Charts, IReadOnlyList<string> Notes, IReadOnlyList<TableProblem> Problems);
