namespace DmxProbe.Testing.HarbourHall;

/// <summary>The chart of a type of our own invention.</summary>
/// <param name="Type">Its name; also the name of its file.</param>
/// <param name="Modes">Its modes.</param>
public sealed record RigChart(string Type, params RigMode[] Modes);
