namespace DmxProbe.Testing.HarbourHall;

/// <summary>A slot of a <see cref="RigMode"/>.</summary>
/// <param name="Function">What it does.</param>
/// <param name="Ranges">Its ranges, together 0 to 255.</param>
public sealed record RigSlot(string Function, params RigRange[] Ranges);
