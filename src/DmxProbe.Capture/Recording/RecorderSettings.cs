using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>How to record.</summary>
public sealed record RecorderSettings
{
    /// <summary>The folder; made where there is none.</summary>
    public required string Folder { get; init; }

    /// <summary>The clock; the program hands down the system's.</summary>
    public required TimeProvider Clock { get; init; }

    /// <summary>Name and version of the writing program.</summary>
    public string Application { get; init; } = "DmxProbe";

    /// <summary>What is recorded, for the list of the run.</summary>
    public IReadOnlyList<string> Inputs { get; init; } = [];

    /// <summary>A new segment begins when a record is this much later than the segment's first; null: not by time.</summary>
    public Duration? SegmentTime { get; init; }

    /// <summary>A new segment begins when the one written has this many octets; null: not by size.</summary>
    public long? SegmentSize { get; init; }

    /// <summary>Keep only this much, but for what a mark or a fault saved; null keeps everything.</summary>
    public Duration? Ring { get; init; }

    /// <summary>How often what was recorded is handed to the disk.</summary>
    public TimeSpan HandOver { get; init; } = TimeSpan.FromMilliseconds(250);

    /// <summary>Takes notices; called on any thread, never at once from two; must return at once.</summary>
    public Action<RecordingNotice> Tell { get; init; } = _ => { };

    /// <summary>Octets free on the disk of a folder, or null where that is not known.</summary>
    public Func<string, long?> FreeSpace { get; init; } = DiskSpace.Free;
}
