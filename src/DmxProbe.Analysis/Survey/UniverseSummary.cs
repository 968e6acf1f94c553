using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Survey;

/// <summary>One universe and everybody who sends it.</summary>
public sealed record UniverseSummary
{
    /// <summary>The universe.</summary>
    public required UniverseId Id { get; init; }

    /// <summary>Frames of every sender and every START code.</summary>
    public required long Frames { get; init; }

    /// <summary>How often each slot count came in frames of START code 0, by slot count, over all senders.</summary>
    public required IReadOnlyList<CountOf> SlotCounts { get; init; }

    /// <summary>Its senders in order of appearance.</summary>
    public required IReadOnlyList<StreamSummary> Streams { get; init; }

    /// <summary>Who decided it over time.</summary>
    public required IReadOnlyList<ObeyedSpan> Obeyed { get; init; }

    /// <summary>Changes of who decides beyond those listed (the list is bounded).</summary>
    public long ObeyedNotListed { get; init; }

    /// <summary>Who decides which slots, and how that changed; null where no levels came.</summary>
    public UniverseArbitration? Arbitration { get; init; }
}
