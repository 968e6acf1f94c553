namespace DmxProbe.Protocols.Records;

/// <summary>Where a record is in a capture file, and what must be known to read on from there. Kept in memory only.</summary>
public readonly record struct CapturePosition
{
    /// <summary>Offset of the record in the capture, in octets.</summary>
    public long Offset { get; internal init; }

    /// <summary><see cref="CaptureRecord.Number"/> of the record.</summary>
    public long Number { get; internal init; }

    /// <summary>Time of the record before it; a record without a time has that one.</summary>
    internal Timestamp TimeBefore { get; init; }

    /// <summary>What the format needs besides; shared by the marks between which it did not change.</summary>
    internal object? State { get; init; }
}
