using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>How often packets of one sender on one universe came again.</summary>
/// <param name="Counts">How often, by kind, for kinds that occurred.</param>
/// <param name="First">When first.</param>
/// <param name="Last">When last.</param>
/// <param name="FirstRecord">Record of the first.</param>
/// <param name="Looped">Packets that came more than ten times within a second.</param>
/// <param name="LoopFrom">When the first of those did.</param>
/// <param name="LoopRecord">Record that made it more than ten.</param>
public sealed record RepeatSnapshot(
    IReadOnlyDictionary<RepeatKind, long> Counts,
    Timestamp First,
    Timestamp Last,
    long FirstRecord,
    long Looped,
    Timestamp LoopFrom,
    long LoopRecord)
{
    /// <summary>How often packets came again for a reason that is known.</summary>
    public long Known => Counts.Where(pair => pair.Key != RepeatKind.Undecided).Sum(pair => pair.Value);

    /// <summary>How often packets were captured again that were sent once.</summary>
    public long Captured =>
        Of(RepeatKind.Mirrored) + Of(RepeatKind.OtherInterface) + Of(RepeatKind.OtherVlan) + Of(RepeatKind.Routed);

    /// <summary>How often packets came again in one way.</summary>
    public long Of(RepeatKind kind) => Counts.GetValueOrDefault(kind);
}
