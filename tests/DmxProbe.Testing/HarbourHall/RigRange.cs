namespace DmxProbe.Testing.HarbourHall;

/// <summary>A range of a <see cref="RigSlot"/>.</summary>
/// <param name="From">First value.</param>
/// <param name="To">Last value.</param>
/// <param name="Meaning">What the chart says.</param>
public sealed record RigRange(int From, int To, string Meaning);
