namespace DmxProbe.Analysis.Rdm;

/// <summary>A personality (mode) as a device describes it.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="Footprint">Slots it takes.</param>
/// <param name="Name">What the device calls it; untrusted.</param>
public sealed record RdmPersonality(int Number, int Footprint, string Name);
