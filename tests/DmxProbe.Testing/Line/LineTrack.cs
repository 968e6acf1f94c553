namespace DmxProbe.Testing.Line;

/// <summary>One channel of a synthesised recording.</summary>
/// <param name="Name">Name of the channel.</param>
/// <param name="Signal">What is on the line.</param>
/// <param name="IsInverted">True on data -: mark is low.</param>
public sealed record LineTrack(string Name, LineSignal Signal, bool IsInverted = false);
