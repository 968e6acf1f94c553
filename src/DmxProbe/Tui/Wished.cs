using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Tui;

/// <summary>What the person looks at.</summary>
/// <param name="Unit">The unit, as the sheet names it; null for none.</param>
/// <param name="Universe">The universe whose slots are shown; null for none.</param>
/// <param name="Walks">Whether a function check goes on.</param>
internal sealed record Wished(string? Unit, UniverseId? Universe, bool Walks)
{
    /// <summary>Whether the levels of a universe are looked at; with a unit or a check any may be asked for next.</summary>
    public bool Shows(UniverseId universe) => Unit is not null || Walks || Universe == universe;
}
