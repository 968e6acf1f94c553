namespace DmxProbe.Fixtures.Charts;

/// <summary>The DMX chart of a fixture type.</summary>
/// <param name="Type">Name of the type, as the patch sheet writes it; untrusted text.</param>
/// <param name="Modes">Its modes, at least one.</param>
public sealed record Chart(string Type, IReadOnlyList<ChartMode> Modes);
