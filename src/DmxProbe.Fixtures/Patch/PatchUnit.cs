namespace DmxProbe.Fixtures.Patch;

/// <summary>One unit of a patch sheet. All text is untrusted.</summary>
/// <param name="Unit">Its name.</param>
/// <param name="Type">Its type, as the chart is named.</param>
/// <param name="Mode">The mode the sheet says it is in; empty when it says none.</param>
/// <param name="Universe">Universe by the sheet's own numbering: not a Port-Address, not an sACN number.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Position">Where it hangs; empty when not said.</param>
/// <param name="Chain">Which cable chain it is on; empty when not said.</param>
/// <param name="Circuit">Which mains circuit feeds it; empty when not said.</param>
/// <param name="SharesWith">Units it shares its address with on purpose.</param>
/// <param name="Note">A note; empty when there is none.</param>
/// <param name="Line">Line of the sheet, from 1; 0 when it is from no file.</param>
public sealed record PatchUnit(string Unit, string Type, string Mode, int Universe, int Address, string Position, string Chain, string Circuit,
    IReadOnlyList<string> SharesWith, string Note, int Line)
{
    /// <summary>Its place in the chain, from 1; 0 when not said.</summary>
    public int ChainOrder { get; init; }

    /// <summary>The group of its radio link; empty when it has none.</summary>
    public string Wireless { get; init; } = "";

    /// <summary>How many slots the sheet itself says it takes, by a range or a column; 0 when it does not.</summary>
    public int StatedFootprint { get; init; }
}
