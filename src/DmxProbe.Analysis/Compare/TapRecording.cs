using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>What one tap saw, as far as it was kept.</summary>
public sealed class TapRecording
{
    private readonly IReadOnlyList<byte[]> _contents;

    internal TapRecording(IReadOnlyList<TapStream> streams, IReadOnlyList<byte[]> contents, Timestamp last, bool isWhole, bool sampleClock, Duration resolution)
    {
        Streams = streams;
        _contents = contents;
        Last = last;
        IsWhole = isWhole;
        HasSampleClock = sampleClock;
        Resolution = resolution;
    }

    /// <summary>The streams, by universe.</summary>
    public IReadOnlyList<TapStream> Streams { get; }

    /// <summary>The time up to which the tap listened.</summary>
    public Timestamp Last { get; }

    /// <summary>False where there was more than is kept: only the first part is compared.</summary>
    public bool IsWhole { get; }

    /// <summary>True where times count from the start of a recording: they cannot be those of another tap.</summary>
    public bool HasSampleClock { get; }

    /// <summary>What a stamp may be off by: the step of the clock, and for a serial port the lump in which it hands octets over.</summary>
    public Duration Resolution { get; }

    /// <summary>True where a line or a serial port is among the streams.</summary>
    public bool HasLine => Streams.Any(stream => GatewayComparer.IsLine(stream.Universe));

    /// <summary>The slots of a content, slot 1 first.</summary>
    public ReadOnlySpan<byte> Slots(int content) => _contents[content];
}
