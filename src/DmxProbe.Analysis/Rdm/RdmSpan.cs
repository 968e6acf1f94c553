using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>When something about RDM was seen: what a finding about it shows as its evidence.</summary>
/// <param name="From">The first time.</param>
/// <param name="To">The last.</param>
/// <param name="FirstRecord">The record of the first.</param>
public readonly record struct RdmSpan(Timestamp From, Timestamp To, long FirstRecord)
{
    /// <summary>The span that holds two; either may be missing.</summary>
    public static RdmSpan? Over(RdmSpan? one, RdmSpan? other) =>
        one is not RdmSpan left ? other
        : other is not RdmSpan right ? left
        : new RdmSpan(
            left.From <= right.From ? left.From : right.From,
            left.To >= right.To ? left.To : right.To,
            left.From <= right.From ? left.FirstRecord : right.FirstRecord);

    /// <summary>The span, longer by a moment at which it was seen again.</summary>
    internal static RdmSpan Longer(RdmSpan? span, Timestamp time, long record) =>
        span is RdmSpan seen ? seen with { To = time > seen.To ? time : seen.To } : new RdmSpan(time, time, record);
}
