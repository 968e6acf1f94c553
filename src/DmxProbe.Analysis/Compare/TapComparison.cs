using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>Two taps of one show, or the two ends of one line: whichever the two recordings are.</summary>
/// <param name="IsSegment">True where both taps are on lines: the first is the start, the second the far end.</param>
/// <param name="Gateways">For a network and a line: each line held against the network.</param>
/// <param name="Segments">For two lines: each line's far end held against its start.</param>
public sealed record TapComparison(bool IsSegment, IReadOnlyList<GatewayComparison> Gateways, IReadOnlyList<SegmentComparison> Segments)
{
    /// <summary>Compares two taps; null where none has a line, or the other has no levels at all.</summary>
    /// <param name="first">One tap; of two lines, the start.</param>
    /// <param name="second">The other; of two lines, the far end.</param>
    /// <param name="resolution">What the stamps of both may be off by, together.</param>
    /// <param name="sameClock">Whether both have one clock; null to decide by the offset found.</param>
    public static TapComparison? Of(TapRecording first, TapRecording second, Duration resolution, bool? sameClock = null) =>
        (first.HasLine, second.HasLine) switch
        {
            (true, true) => new TapComparison(true, [], SegmentComparer.Compare(first, second)),
            (false, true) when first.Streams.Count > 0 => new TapComparison(false, GatewayComparer.Compare(first, second, resolution, sameClock), []),
            (true, false) when second.Streams.Count > 0 => new TapComparison(false, GatewayComparer.Compare(second, first, resolution, sameClock), []),
            _ => null,
        };
}
