namespace DmxProbe.Protocols.Records;

/// <summary>What a <see cref="CaptureRecord"/> holds.</summary>
public enum RecordKind
{
    /// <summary>A packet as it was on a network interface, starting with the header of its link type.</summary>
    Packet,

    /// <summary>No bytes: a statement that the capture lost <see cref="CaptureRecord.LostBefore"/> records here.</summary>
    Loss,
}
