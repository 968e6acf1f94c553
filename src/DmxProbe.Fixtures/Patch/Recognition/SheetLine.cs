using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>A row of a sheet that holds a unit, with its address read but not yet placed.</summary>
/// <param name="Row">The row.</param>
/// <param name="Address">What its address says.</param>
/// <param name="AddressCell">The cell it was read from; untrusted text.</param>
/// <param name="Universe">What its universe says, from its own column or its address; null when nothing does.</param>
/// <param name="UniverseCell">The cell it was read from; untrusted text, empty when there is none.</param>
internal sealed record SheetLine(GridRow Row, AddressText Address, string AddressCell, UniverseText? Universe, string UniverseCell);
