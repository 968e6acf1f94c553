using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>What an sACN source says it sends (universe discovery).</summary>
public sealed record DiscoverySummary
{
    /// <summary>The source.</summary>
    public required SenderSummary Sender { get; init; }

    /// <summary>Universes of its last complete list, ascending; of what was seen when no list was complete.</summary>
    public required IReadOnlyList<int> Universes { get; init; }

    /// <summary>False when a page of the list is missing.</summary>
    public required bool Complete { get; init; }

    /// <summary>Discovery packets seen.</summary>
    public required long Packets { get; init; }

    /// <summary>First pages seen: how often the list was sent.</summary>
    public long Sets { get; init; }

    /// <summary>When the first list began.</summary>
    public Timestamp First { get; init; }

    /// <summary>When the last list began.</summary>
    public Timestamp Last { get; init; }

    /// <summary>When the last complete list began; meaningful where <see cref="Complete"/>.</summary>
    public Timestamp CompleteAt { get; init; }

    /// <summary>Longest time between two lists.</summary>
    public Duration LongestPause { get; init; }

    /// <summary>Lists beyond two within one interval of 10 s.</summary>
    public long CrowdedSets { get; init; }
}
