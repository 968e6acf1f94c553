using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Walk;

/// <summary>A unit to be walked.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Universe">Its universe on the wire; null when it is not known.</param>
/// <param name="Mode">Its mode; null when there is no chart: its slots are then unknown.</param>
/// <param name="Footprint">How many slots it takes.</param>
public sealed record WalkTarget(PatchUnit Unit, UniverseId? Universe, ChartMode? Mode, int Footprint);
