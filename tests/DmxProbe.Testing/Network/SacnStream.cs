namespace DmxProbe.Testing.Network;

/// <summary>One universe of an <see cref="SacnSource"/>.</summary>
public sealed record SacnStream : StreamPlan
{
    /// <summary>The universe, 1 to 63999 (others to test what happens).</summary>
    public required int Universe { get; init; }

    /// <summary>Priority at the start.</summary>
    public int Priority { get; init; } = 100;

    /// <summary>Later priorities, in order of time.</summary>
    public IReadOnlyList<PriorityChange> PriorityChanges { get; init; } = [];

    /// <summary>True to end with three packets of Stream_Terminated (E1.31-2018 section 6.2.6), false to fall silent.</summary>
    public bool Terminates { get; init; } = true;

    /// <summary>Synchronization address; 0 = none. The source then sends a synchronization packet after the data.</summary>
    public int SyncAddress { get; init; }

    /// <summary>Options sent in every packet.</summary>
    public int Options { get; init; }

    /// <summary>True to send in the layout of the draft.</summary>
    public bool Draft { get; init; }

    /// <summary>Sequence number of the first packet.</summary>
    public int FirstSequence { get; init; }

    /// <summary>The priority at a moment.</summary>
    public int PriorityAt(long time) => PriorityChanges.LastOrDefault(c => c.At <= time)?.Priority ?? Priority;
}
