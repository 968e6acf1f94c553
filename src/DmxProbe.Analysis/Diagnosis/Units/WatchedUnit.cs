using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>A unit to be followed.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Mode">Its mode by the chart; null where there is none.</param>
/// <param name="Footprint">How many slots it takes, 1 or more.</param>
public sealed record WatchedUnit(PatchUnit Unit, ChartMode? Mode, int Footprint);
