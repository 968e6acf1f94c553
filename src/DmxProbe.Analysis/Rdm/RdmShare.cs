using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>How levels fare while RDM is on the line.</summary>
/// <param name="LevelFrames">Packets of levels.</param>
/// <param name="RdmFrames">RDM packets.</param>
/// <param name="QuietHz">Levels a second while no RDM had passed for a second; null with fewer than 20 intervals.</param>
/// <param name="PolledHz">Levels a second while RDM passed; null with fewer than 5 intervals.</param>
/// <param name="LongestGap">Longest time between two packets of levels with RDM between them.</param>
/// <param name="GapFrom">When it began.</param>
/// <param name="ShortBeforeRdm">Packets of levels right before RDM that had less than half of the usual slots.</param>
/// <param name="UsualSlots">Slots of the longest packet of levels.</param>
public sealed record RdmShare(
    long LevelFrames,
    long RdmFrames,
    double? QuietHz,
    double? PolledHz,
    Duration LongestGap,
    Timestamp GapFrom,
    long ShortBeforeRdm,
    int UsualSlots)
{
    /// <summary>From the first of the short packets to the last, with the record of the RDM packet behind the first; null without one.</summary>
    public RdmSpan? ShortSeen { get; init; }
}
