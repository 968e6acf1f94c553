using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>A unit of a rig.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Mode">Its mode.</param>
/// <param name="Group">Its group.</param>
/// <param name="Universe">Universe from 0.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="OnSheet">Whether the sheet has it; else it is other moving data.</param>
public sealed record RigUnit(string Name, ChartMode Mode, int Group, int Universe, int Address, bool OnSheet);
