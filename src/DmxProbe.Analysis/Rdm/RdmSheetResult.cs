using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Rdm;

/// <summary>RDM devices held against a patch sheet.</summary>
/// <param name="Taken">Which universe of the sheet each universe with RDM was taken for; told: from the map, not guessed.</param>
/// <param name="NotCompared">Universes with RDM that could not be taken for any.</param>
/// <param name="AsTheSheetSays">Devices and parts that stand where the sheet has a unit of that many slots.</param>
/// <param name="Compared">Devices and parts with an address that were compared.</param>
/// <param name="Remarks">The differences, worst first.</param>
public sealed record RdmSheetResult(
    IReadOnlyList<(UniverseId Universe, int SheetUniverse, bool IsTold)> Taken,
    IReadOnlyList<UniverseId> NotCompared,
    int AsTheSheetSays,
    int Compared,
    IReadOnlyList<RdmRemark> Remarks)
{
    /// <summary>The units for which a device stands as the sheet says, verbatim.</summary>
    public IReadOnlyList<string> Right { get; init; } = [];
}
