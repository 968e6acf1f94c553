using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Explain;

/// <summary>A unit to follow.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Mode">Its mode.</param>
/// <param name="Universes">The universes of the wire that it may be on.</param>
public sealed record TracedUnit(PatchUnit Unit, ChartMode Mode, IReadOnlySet<UniverseId> Universes);
