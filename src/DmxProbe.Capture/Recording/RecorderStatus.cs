using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>What the recorder has done so far.</summary>
public sealed record RecorderStatus
{
    /// <summary>Records written, marks included.</summary>
    public long Records { get; init; }

    /// <summary>Marks among them.</summary>
    public long Marks { get; init; }

    /// <summary>Octets written, those of deleted segments included.</summary>
    public long Octets { get; init; }

    /// <summary>Segments begun.</summary>
    public int Segments { get; init; }

    /// <summary>Segments that the ring has deleted again.</summary>
    public int Deleted { get; init; }

    /// <summary>Records that the source says it lost.</summary>
    public long LostBySource { get; init; }

    /// <summary>Records that came while nothing could be written.</summary>
    public long NotRecorded { get; init; }

    /// <summary>Records a second over the last seconds.</summary>
    public double RecordsPerSecond { get; init; }

    /// <summary>Octets a second over the last seconds.</summary>
    public double OctetsPerSecond { get; init; }

    /// <summary>Octets free on the disk; null where not known.</summary>
    public long? Free { get; init; }

    /// <summary>Time until the disk is full at the present rate; null where not known.</summary>
    public Duration? Left { get; init; }

    /// <summary>True while nothing can be written.</summary>
    public bool IsHeldUp { get; init; }

    /// <summary>The longest time that anything written stayed at risk of a power cut so far.</summary>
    public Duration LongestAtRisk { get; init; }
}
