using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>What one tap saw, as far as it was kept.</summary>
public sealed class TapRecording
{
    private readonly IReadOnlyList<byte[]> _contents;

    internal TapRecording(IReadOnlyList<TapStream> streams, IReadOnlyList<byte[]> contents, Timestamp last, bool isWhole, bool sampleClock)
    {
        Streams = streams;
        _contents = contents;
        Last = last;
        IsWhole = isWhole;
        HasSampleClock = sampleClock;
    }

    /// <summary>The streams, by universe.</summary>
    public IReadOnlyList<TapStream> Streams { get; }

    /// <summary>The time up to which the tap listened.</summary>
    public Timestamp Last { get; }

    /// <summary>False where there was more than is kept: only the first part is compared.</summary>
    public bool IsWhole { get; }

    /// <summary>True where times count from the start of a recording: they cannot be those of another tap.</summary>
    public bool HasSampleClock { get; }

    /// <summary>The slots of a content, slot 1 first.</summary>
    public ReadOnlySpan<byte> Slots(int content) => _contents[content];
}
