using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>A time in which levels moved, with rest before and behind it: a cue as the wire shows it.</summary>
/// <param name="At">When the first slot moved.</param>
/// <param name="Settled">When the last slot had moved.</param>
/// <param name="Slots">How many slots moved, over all streams.</param>
/// <param name="Sketch">What moved and to where, as numbers that two nights of one show have in common (bottom of a hash in each of 128 buckets).</param>
/// <param name="Look">Where everything stands after it, as numbers of the same kind, over blocks of 16 slots.</param>
internal sealed record NightChange(Timestamp At, Timestamp Settled, int Slots, uint[] Sketch, uint[] Look);
