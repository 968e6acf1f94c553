using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>A line (or serial port) held against the network universe that feeds it.</summary>
public sealed record GatewayComparison
{
    /// <summary>The line.</summary>
    public required UniverseId Line { get; init; }

    /// <summary>The universe that explains it best; null where none does.</summary>
    public UniverseId? Universe { get; init; }

    /// <summary>Share of the line's frames that the second best universe explains; 0 where there is none.</summary>
    public double RunnerUpShare { get; init; }

    /// <summary>The second best universe; null where none explains anything.</summary>
    public UniverseId? RunnerUp { get; init; }

    /// <summary>Senders of the universe.</summary>
    public int Senders { get; init; }

    /// <summary>
    /// True where both taps have one clock, so that latency is from the packet to the line; else latencies count from the fastest one
    /// and only their spread is measured.
    /// </summary>
    public bool SameClock { get; init; }

    /// <summary>Line time less network time of the fastest change.</summary>
    public Duration Offset { get; init; }

    /// <summary>Rate by which the line's clock runs ahead of the network's, in parts per million; 0 with one clock.</summary>
    public double ClockPpm { get; init; }

    /// <summary>From a packet that changes the output to the first line frame that carries it; null where nothing changed.</summary>
    public IntervalStatistics? Latency { get; init; }

    /// <summary>What a single latency may be off by: the taps' resolution, and the lump of a serial port.</summary>
    public Duration Resolution { get; init; }

    /// <summary>Changes of the output that the network asked for while the line was watched.</summary>
    public long Changes { get; init; }

    /// <summary>Of those, how many reached the line.</summary>
    public long ChangesPassed { get; init; }

    /// <summary>Level packets a second of the busiest sender while it ran; null where unknown.</summary>
    public double? NetworkHz { get; init; }

    /// <summary>Frames a second on the line; null where unknown.</summary>
    public double? LineHz { get; init; }

    /// <summary>The rules by how well they fit, best first.</summary>
    public IReadOnlyList<RuleFit> Fits { get; init; } = [];

    /// <summary>The rules that nothing here tells apart from the best: with one sender, all.</summary>
    public IReadOnlyList<MergeRule> BestRules { get; init; } = [];

    /// <summary>Losses of all senders, oldest first.</summary>
    public IReadOnlyList<LossObservation> Losses { get; init; } = [];

    /// <summary>False where more came than is kept, so that only the first part was compared.</summary>
    public bool IsWhole { get; init; } = true;
}
