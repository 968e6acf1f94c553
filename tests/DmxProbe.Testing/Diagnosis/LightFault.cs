using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>What the light of one unit really follows.</summary>
/// <param name="Unit">The unit, as the sheet has it.</param>
/// <param name="SheetUniverse">The universe that it reads, numbered as the sheet does; 0 = nothing, it runs a programme of its own.</param>
/// <param name="Address">The address that it reads.</param>
/// <param name="Mode">The mode that it is in.</param>
public sealed record LightFault(PatchUnit Unit, int SheetUniverse, int Address, ChartMode Mode);
