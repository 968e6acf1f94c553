using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>One universe of one sender, with every way in which it can go wrong.</summary>
public sealed class FaultStream
{
    /// <summary>The universe.</summary>
    public required UniverseId Universe { get; set; }

    /// <summary>When it is sent, and what.</summary>
    public required StreamPlan Plan { get; set; }

    /// <summary>sACN priority by time.</summary>
    public Func<long, int> Priority { get; set; } = _ => 100;

    /// <summary>Slots of a packet by its number; null: all of the plan.</summary>
    public Func<long, int>? SlotCount { get; set; }

    /// <summary>Sequence number by the number of the packet and its time, before wrapping; null: counts.</summary>
    public Func<long, long, long>? Sequence { get; set; }

    /// <summary>sACN options.</summary>
    public int Options { get; set; }

    /// <summary>sACN synchronization address; 0 = none.</summary>
    public int SyncAddress { get; set; }

    /// <summary>Address that synchronization packets carry; null: that of the data; meaningful where one is sent.</summary>
    public int? SyncPacketAddress { get; set; }

    /// <summary>sACN: whether the end is told.</summary>
    public bool Terminates { get; set; }

    /// <summary>sACN: the layout of the draft.</summary>
    public bool Draft { get; set; }

    /// <summary>sACN: the universe whose group it is sent to; null: its own.</summary>
    public int? Group { get; set; }

    /// <summary>Whom it is unicast to; null: multicast or broadcast.</summary>
    public Host? To { get; set; }

    /// <summary>Art-Net: whether packets are counted.</summary>
    public bool Counted { get; set; } = true;

    /// <summary>Changes a payload before it is sent, by the number of the packet.</summary>
    public Func<byte[], long, byte[]>? Payload { get; set; }

    /// <summary>Changes a frame before it is sent, by the number of the packet.</summary>
    public Func<byte[], long, byte[]>? Frame { get; set; }
}
