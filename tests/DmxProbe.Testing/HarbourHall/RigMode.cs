namespace DmxProbe.Testing.HarbourHall;

/// <summary>A mode of a <see cref="RigChart"/>.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Slots">Its slots in order, the first at the start address.</param>
public sealed record RigMode(string Name, params RigSlot[] Slots)
{
    /// <summary>Place of a function from 0, or -1 where the mode has none of that name.</summary>
    public int IndexOf(string function) =>
        Array.FindIndex(Slots, s => s.Function.Equals(function, StringComparison.OrdinalIgnoreCase));
}
