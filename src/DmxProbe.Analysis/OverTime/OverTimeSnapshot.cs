using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.OverTime;

/// <summary>A recording span by span, for pictures.</summary>
/// <param name="Start">Start of the first span; null when nothing came.</param>
/// <param name="Width">Length of each span.</param>
/// <param name="Bins">Spans.</param>
/// <param name="Streams">Every sender on every universe, by universe.</param>
/// <param name="LastPart">Which part of the last span the recording covers, 0 to 1: rates are per covered time.</param>
public sealed record OverTimeSnapshot(Timestamp? Start, Duration Width, int Bins, IReadOnlyList<StreamOverTime> Streams, double LastPart)
{
    /// <summary>Seconds that a span covers.</summary>
    public double Seconds(int bin) => Width.TotalSeconds * (bin == Bins - 1 ? LastPart : 1);
}
