using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>What comes out of a link (wireless, gateway, splitter, network) held against what goes in.</summary>
public sealed record LinkComparison
{
    /// <summary>Most freezes and detours listed.</summary>
    public const int MostListed = 200;

    /// <summary>Most single latencies kept.</summary>
    public const int MostPassages = 800;

    /// <summary>The universe at the far tap.</summary>
    public required UniverseId Far { get; init; }

    /// <summary>Who sends it there.</summary>
    public required SenderSummary FarSender { get; init; }

    /// <summary>The universe of the near tap that it carries; null where none explains it.</summary>
    public UniverseId? Near { get; init; }

    /// <summary>Whose levels; null for a merge of all senders of the universe.</summary>
    public SenderSummary? NearSender { get; init; }

    /// <summary>True where both taps have one clock; else latencies count from the fastest.</summary>
    public bool SameClock { get; init; }

    /// <summary>Far time less near time of the fastest change.</summary>
    public Duration Offset { get; init; }

    /// <summary>By how much the far tap shows most changes before the near one, where it is over 1 ms and over what stamps may be off by, and less than clocks of two computers may be apart; else zero. The inputs may be the wrong way round.</summary>
    public Duration Lead { get; init; }

    /// <summary>Whether the far tap leads: then nothing that rests on which tap is before the link is told of it.</summary>
    public bool IsOrderInDoubt => Lead > Duration.Zero;

    /// <summary>Rate by which the far clock runs ahead, in parts per million; 0 with one clock.</summary>
    public double ClockPpm { get; init; }

    /// <summary>From a change at the near tap to the first far frame that carries it; null where nothing changed.</summary>
    public IntervalStatistics? Latency { get; init; }

    /// <summary>The latency of single changes, by time; where there are many every so manieth and the latest of those between, at most <see cref="MostPassages"/>.</summary>
    public IReadOnlyList<LinkPassage> Passages { get; init; } = [];

    /// <summary>What stamps may be off by.</summary>
    public Duration Resolution { get; init; }

    /// <summary>Level frames per second at the near tap while running.</summary>
    public double? NearHz { get; init; }

    /// <summary>The same at the far tap.</summary>
    public double? FarHz { get; init; }

    /// <summary>Usual number of slots at the near tap.</summary>
    public int NearSlots { get; init; }

    /// <summary>Usual number of slots at the far tap.</summary>
    public int FarSlots { get; init; }

    /// <summary>Changes of the near tap in the time that both heard.</summary>
    public long Changes { get; init; }

    /// <summary>Of them, those that came out as they were sent.</summary>
    public long ChangesPassed { get; init; }

    /// <summary>Whether so many did that both taps are of one moment: else what did not come out may never have gone in.</summary>
    public bool IsSure => ChangesPassed * 2 >= Changes;

    /// <summary>Far frames judged.</summary>
    public long Frames { get; init; }

    /// <summary>Frames that are missing at the far tap, by sequence numbers, or from gaps in a steady rate; null where it has neither.</summary>
    public long? MissingFrames { get; init; }

    /// <summary>True where missing frames are those of the far end's sequence numbers, less those that were missing before the link.</summary>
    public bool IsMissingBySequence { get; init; }

    /// <summary>Freezes, by time, at most <see cref="MostListed"/>.</summary>
    public IReadOnlyList<LinkFreeze> Freezes { get; init; } = [];

    /// <summary>Freezes in all.</summary>
    public long FreezeCount { get; init; }

    /// <summary>The longest of them; null where there is none.</summary>
    public LinkFreeze? LongestFreeze { get; init; }

    /// <summary>Shortest freeze that is told: 100 ms, or three frames where they are further apart.</summary>
    public Duration LeastFreeze { get; init; }

    /// <summary>Times in which other levels came out, by time, at most <see cref="MostListed"/>.</summary>
    public IReadOnlyList<LinkDetour> Detours { get; init; } = [];

    /// <summary>Slots that came out different in frames that are otherwise right: number and in how many frames, at most 32.</summary>
    public IReadOnlyList<CountOf> DifferingSlots { get; init; } = [];

    /// <summary>Slots that differ in all; more than are listed where there are many.</summary>
    public int DifferingSlotCount { get; init; }

    /// <summary>False where there was more than is kept: only the first part is compared.</summary>
    public bool IsWhole { get; init; }

    /// <summary>Whether something is wrong with the link, or with the order in which its taps were named.</summary>
    public bool HasFaults => Near is null || IsOrderInDoubt || FreezeCount > 0 || Detours.Count > 0 || DifferingSlotCount > 0;

    /// <summary>What to do next, one sentence without a full stop; empty where nothing is wrong.</summary>
    public string Action => LinkAdvice.For(this);
}
