using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>A cue as the wire shows it: a time in which levels moved, with rest before and behind it.</summary>
/// <param name="Number">From 1.</param>
/// <param name="At">When the first slot moved.</param>
/// <param name="Settled">When the last slot had moved: from then on the look stands.</param>
/// <param name="Slots">How many slots moved.</param>
public readonly record struct NightCue(int Number, Timestamp At, Timestamp Settled, int Slots);
