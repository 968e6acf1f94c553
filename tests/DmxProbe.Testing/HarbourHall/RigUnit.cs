namespace DmxProbe.Testing.HarbourHall;

/// <summary>A unit of the patch sheet.</summary>
/// <param name="Name">Unit name.</param>
/// <param name="Chart">Its type.</param>
/// <param name="Mode">Its mode.</param>
/// <param name="Universe">Universe of the sheet, 1 to 3.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Position">Where it hangs or stands.</param>
/// <param name="Chain">The cable chain and its place in it.</param>
/// <param name="Circuit">Its mains circuit.</param>
/// <param name="Note">Anything else.</param>
public sealed record RigUnit(
    string Name,
    RigChart Chart,
    RigMode Mode,
    int Universe,
    int Address,
    string Position,
    string Chain,
    string Circuit,
    string Note = "")
{
    /// <summary>The slots of the unit in the slots of its universe.</summary>
    public ReadOnlySpan<byte> Read(ReadOnlySpan<byte> universe) => universe.Slice(Address - 1, Mode.Slots.Length);
}
