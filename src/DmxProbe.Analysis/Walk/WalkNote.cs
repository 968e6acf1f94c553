using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Walk;

/// <summary>What a person said: from this time on they were working on this unit.</summary>
/// <param name="Time">When.</param>
/// <param name="Unit">The unit's name; untrusted text.</param>
public readonly record struct WalkNote(Timestamp Time, string Unit);
