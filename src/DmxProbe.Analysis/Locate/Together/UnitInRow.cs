namespace DmxProbe.Analysis.Locate.Together;

/// <summary>A unit that is located together with others.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="SheetUniverse">Universe by the sheet.</param>
/// <param name="Address">Start address by the sheet, 1 to 512.</param>
/// <param name="History">Index of the sheet's universe among the histories; -1 where it was not captured.</param>
/// <param name="Question">What the inference is told about it; the first of its modes is the sheet's.</param>
public sealed record UnitInRow(string Name, int SheetUniverse, int Address, int History, LocateQuestion Question)
{
    /// <summary>Units that share its address on purpose.</summary>
    public IReadOnlyList<string> SharesWith { get; init; } = [];
}
