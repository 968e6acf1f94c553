using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Mvr;

/// <summary>What came of reading an MVR file.</summary>
/// <param name="Sheet">Its patched fixtures as units; null when the file is refused or nothing in it is patched.</param>
/// <param name="Charts">The charts of the GDTF files inside that are used; empty when the file is refused.</param>
/// <param name="Notes">What was left out or taken in a way of its own, a sentence each; names in them are escaped.</param>
/// <param name="Problems">Why there is no sheet; empty when there is one.</param>
public sealed record MvrReading(PatchSheet? Sheet, IReadOnlyList<Chart> Charts, IReadOnlyList<string> Notes, IReadOnlyList<TableProblem> Problems);
