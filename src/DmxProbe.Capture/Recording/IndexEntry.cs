using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>A record of a segment and where it stands.</summary>
/// <param name="Time">Time of the record.</param>
/// <param name="Offset">Octet of the segment at which its block begins.</param>
/// <param name="Number">Number of the record in the segment, from 1.</param>
public readonly record struct IndexEntry(Timestamp Time, long Offset, long Number);
