using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.CaptureFiles;

/// <summary>A <see cref="CaptureRecord"/> kept: its bytes as hex, so that two of them compare by value.</summary>
public sealed record CapturedRecord(
    long Number,
    Timestamp Time,
    bool HasTime,
    RecordKind Kind,
    int InterfaceId,
    LinkType LinkType,
    int OriginalLength,
    long LostBefore,
    string Data)
{
    /// <summary>Copies a record.</summary>
    public static CapturedRecord Of(in CaptureRecord record) => new(
        record.Number,
        record.Time,
        record.HasTime,
        record.Kind,
        record.InterfaceId,
        record.LinkType,
        record.OriginalLength,
        record.LostBefore,
        Convert.ToHexString(record.Data));
}
