namespace DmxProbe.Protocols.Records;

/// <summary>
/// Anything captured: a time, an interface, a kind and bytes. A view into the source's buffer, valid until the
/// next <see cref="ICaptureSource.Read"/>; whoever keeps it copies it.
/// </summary>
public readonly ref struct CaptureRecord
{
    /// <summary>Number of this record in its source, from 1; counts every record of every kind.</summary>
    public required long Number { get; init; }

    /// <summary>When it was captured. Where <see cref="HasTime"/> is false: the time of the record before it.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>False where the capture gives no time for this record (a Simple Packet Block of pcapng).</summary>
    public bool HasTime { get; init; } = true;

    /// <summary>What it holds.</summary>
    public RecordKind Kind { get; init; }

    /// <summary><see cref="CaptureInterface.Id"/> of the interface it came in by.</summary>
    public required int InterfaceId { get; init; }

    /// <summary>How a packet's bytes start.</summary>
    public LinkType LinkType { get; init; }

    /// <summary>Length on the wire in octets; larger than <see cref="Data"/> where the snap length cut it.</summary>
    public int OriginalLength { get; init; }

    /// <summary>Records that the capture itself lost on this interface just before this one (its own loss, not the network's).</summary>
    public long LostBefore { get; init; }

    /// <summary>The captured bytes.</summary>
    public ReadOnlySpan<byte> Data { get; init; }

    /// <summary>Makes a record; set the members in an initializer.</summary>
    public CaptureRecord()
    {
    }
}
