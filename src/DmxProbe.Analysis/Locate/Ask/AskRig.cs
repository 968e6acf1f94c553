using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What questions are made from.</summary>
/// <param name="Space">The places.</param>
/// <param name="Unit">The unit asked about; untrusted text.</param>
/// <param name="Units">Every unit of the sheet, the one asked about too.</param>
/// <param name="SheetUniverses">The sheet's number of each universe of the space; -1 where it has none.</param>
/// <param name="Held">The level that each slot holds when nobody does anything: 512 of each universe, as at the end of the capture.</param>
public sealed record AskRig(
    AskSpace Space,
    string Unit,
    IReadOnlyList<AskUnit> Units,
    IReadOnlyList<int> SheetUniverses,
    IReadOnlyList<byte[]> Held)
{
    /// <summary>How moments are named to a person; by itself in UTC.</summary>
    public Func<Timestamp, string> Clock { get; init; } = time => time.ToString()[..21] + "Z";
}
