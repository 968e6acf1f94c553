using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// START code plus slots of one universe from one sender at one time. A view over the record's bytes, valid until
/// <see cref="IFrameSink.OnFrame"/> returns; whoever keeps it copies it.
/// </summary>
public readonly ref struct DmxFrame
{
    /// <summary>When it arrived.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>Number of the record that carried it.</summary>
    public required long Record { get; init; }

    /// <summary>The universe.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>
    /// Index of the pair (universe, sender) in <see cref="StreamTable"/>, from 0 without holes: analyzers keep their
    /// state in arrays by this index.
    /// </summary>
    public required int Stream { get; init; }

    /// <summary>Index of the sender in <see cref="SenderTable"/>.</summary>
    public required int Sender { get; init; }

    /// <summary>Index of the universe in <see cref="StreamTable"/>, from 0 without holes.</summary>
    public required int UniverseIndex { get; init; }

    /// <summary>START code; 0 = levels. Never mix the slots of another code into levels.</summary>
    public byte StartCode { get; init; }

    /// <summary>Sequence number as sent; meaningful where <see cref="Flags"/> has <see cref="FrameFlags.SequenceCounted"/>.</summary>
    public byte Sequence { get; init; }

    /// <summary>sACN priority as sent, 0 to 255 (0 to 200 allowed); 100 where the protocol has none.</summary>
    public byte Priority { get; init; }

    /// <summary>sACN synchronization address; 0 = act at once.</summary>
    public ushort SyncAddress { get; init; }

    /// <summary>IPv4 address that sent it, as a number; 0 where there is none. ArtSync counts by it.</summary>
    public uint Host { get; init; }

    /// <summary>What else the packet said.</summary>
    public FrameFlags Flags { get; init; }

    /// <summary>What tells a packet captured twice from one sent twice; default where it came by no network.</summary>
    public PacketPrint Print { get; init; }

    /// <summary>Slot 1 first; 0 to 512 of them.</summary>
    public required ReadOnlySpan<byte> Slots { get; init; }
}
