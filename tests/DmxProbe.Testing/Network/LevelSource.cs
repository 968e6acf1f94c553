namespace DmxProbe.Testing.Network;

/// <summary>Fills the slots of a universe as a controller would play them at a moment.</summary>
/// <param name="time">Nanoseconds since the start of the simulation.</param>
/// <param name="slots">Slot 1 first; all of it is to be written.</param>
public delegate void LevelSource(long time, Span<byte> slots);
