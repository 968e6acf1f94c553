using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>A patch sheet as it was read, with the charts of its types.</summary>
/// <param name="Path">The sheet as the person named it.</param>
/// <param name="Patch">The units, their modes as the charts name them.</param>
/// <param name="Charts">The charts.</param>
/// <param name="Recognition">What was recognised in the sheet, with what was taken for which mode.</param>
internal sealed record SheetInUse(string Path, PatchSheet Patch, ChartSet Charts, PatchRecognition Recognition);
