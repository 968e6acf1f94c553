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
}
