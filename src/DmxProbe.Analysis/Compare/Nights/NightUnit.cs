using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>A unit of the patch sheet, by what it is on the wire.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Universe">The universe of the wire.</param>
/// <param name="From">Its first slot.</param>
/// <param name="To">Its last slot.</param>
public sealed record NightUnit(string Name, UniverseId Universe, int From, int To);
