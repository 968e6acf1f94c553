using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>A unit of the sheet, as far as it matters which slots are its own.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Universe">Index of its universe in the space; -1 where that was not captured.</param>
/// <param name="Address">Its sheet address, 1 to 512.</param>
/// <param name="Mode">Its mode by the sheet; null where there is no chart: then nobody knows what its slots do.</param>
public sealed record AskUnit(string Name, int Universe, int Address, ChartMode? Mode);
