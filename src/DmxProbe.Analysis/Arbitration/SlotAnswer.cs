using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Who decides one slot at one time, why, and who moved it last.</summary>
public sealed record SlotAnswer
{
    /// <summary>The universe.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>The slot, 1 to 512.</summary>
    public required int Slot { get; init; }

    /// <summary>The time asked.</summary>
    public required Timestamp At { get; init; }

    /// <summary>The answers, one where all receivers agree; the first is the one most receivers will give.</summary>
    public required IReadOnlyList<SlotCase> Cases { get; init; }

    /// <summary>Every sender of the universe at that time, strongest claim first.</summary>
    public required IReadOnlyList<Contender> Contenders { get; init; }

    /// <summary>Whether receivers that know synchronization hold the universe.</summary>
    public SyncState Sync { get; init; }

    /// <summary>The sACN synchronization address waited for; 0 where none is.</summary>
    public int SyncAddress { get; init; }

    /// <summary>The last synchronization packet; null where none is waited for.</summary>
    public Timestamp? LastSync { get; init; }

    /// <summary>How the nodes of an Art-Net Port-Address merge, as far as they told.</summary>
    public MergeMode Mode { get; init; }

    /// <summary>True where a question that began to read later could have been answered otherwise.</summary>
    internal bool RestsOnEarlier { get; init; }
}
