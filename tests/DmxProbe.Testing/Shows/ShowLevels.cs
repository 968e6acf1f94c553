namespace DmxProbe.Testing.Shows;

/// <summary>Overwrites slots of a universe of a show.</summary>
/// <param name="cue">The cue that stands, from 0.</param>
/// <param name="seconds">Seconds from the start of the night.</param>
/// <param name="slots">Slot 1 first.</param>
public delegate void ShowLevels(int cue, double seconds, Span<byte> slots);
