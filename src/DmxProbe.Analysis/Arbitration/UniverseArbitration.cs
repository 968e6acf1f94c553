using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Who decides a universe over time; immutable.</summary>
public sealed record UniverseArbitration
{
    /// <summary>Who decides the universe as a whole, oldest first.</summary>
    public required IReadOnlyList<ObeyedSpan> Obeyed { get; init; }

    /// <summary>Spans beyond those kept.</summary>
    public long ObeyedNotListed { get; init; }

    /// <summary>Who decides which slots at the end; empty where one sender was alone all the time.</summary>
    public IReadOnlyList<WinnerRange> Winners { get; init; } = [];

    /// <summary>Changes of who decides, by slot range, oldest first.</summary>
    public IReadOnlyList<WinnerChange> Changes { get; init; } = [];

    /// <summary>Changes beyond those kept.</summary>
    public long ChangesNotListed { get; init; }

    /// <summary>When the first of them took effect; null where all are kept.</summary>
    public Timestamp? FirstChangeNotListed { get; init; }

    /// <summary>How the nodes of an Art-Net Port-Address merge, as far as they told.</summary>
    public MergeMode Mode { get; init; }

    /// <summary>Whether receivers that know synchronization hold the universe at the end.</summary>
    public SyncState Sync { get; init; }

    /// <summary>The sACN synchronization address waited for; 0 where none is.</summary>
    public int SyncAddress { get; init; }

    /// <summary>The last synchronization packet that counted; null where none did.</summary>
    public Timestamp? LastSync { get; init; }

    /// <summary>True where a source sent per-address priorities that counted.</summary>
    public bool HasAddressPriority { get; init; }

    /// <summary>Who decided which slots at a time, from the changes kept.</summary>
    /// <param name="at">The time; a change of that very time counts.</param>
    /// <returns>
    /// As <see cref="Winners"/>; empty where one sender was alone all the time; null where changes up to then were not kept.
    /// Before its first change a universe is told as it was from its first frame on.
    /// </returns>
    public IReadOnlyList<WinnerRange>? WinnersAt(Timestamp at) =>
        at >= FirstChangeNotListed ? null : Changes.Count == 0 ? Winners : WinnersThen.At(this, at);
}
