using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>Another unit of the sheet, whose light may spill into the reading.</summary>
/// <param name="Name">Its name on the sheet; untrusted text.</param>
/// <param name="History">Index of the history it reads by the sheet.</param>
/// <param name="Address">Its sheet address, 1 to 512.</param>
/// <param name="Mode">Its mode by the sheet.</param>
public sealed record OtherUnit(string Name, int History, int Address, ChartMode Mode);
