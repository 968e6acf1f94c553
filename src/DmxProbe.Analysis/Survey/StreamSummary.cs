using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>One sender on one universe. Rates are of this sender alone and never summed over senders.</summary>
public sealed record StreamSummary
{
    /// <summary>Who.</summary>
    public required SenderSummary Sender { get; init; }

    /// <summary>Time of its first frame.</summary>
    public required Timestamp First { get; init; }

    /// <summary>Time of its last frame.</summary>
    public required Timestamp Last { get; init; }

    /// <summary>Record of its first frame.</summary>
    public required long FirstRecord { get; init; }

    /// <summary>Frames of every START code, termination packets included.</summary>
    public required long Frames { get; init; }

    /// <summary>Frames of START code 0 that carried levels (termination packets left out).</summary>
    public required long LevelFrames { get; init; }

    /// <summary>
    /// Level frames per second of the time in which it was present (gaps over the protocol's loss time left out); null
    /// with fewer than two frames.
    /// </summary>
    public double? RateHz { get; init; }

    /// <summary>
    /// Level frames per second while it was running: over the intervals under 250 ms, exact; null when there were none.
    /// </summary>
    public double? RunningHz { get; init; }

    /// <summary>How many intervals stand behind <see cref="RunningHz"/>.</summary>
    public long RunningIntervals { get; init; }

    /// <summary>Level frames whose slots differ from the frame before, per second of the same time.</summary>
    public double? ChangedHz { get; init; }

    /// <summary>Level frames whose slots differ from the frame before.</summary>
    public long ChangedFrames { get; init; }

    /// <summary>Slots that ever changed from one frame of levels to the next.</summary>
    public int MovedSlots { get; init; }

    /// <summary>Slots above 0 in its last frame of levels.</summary>
    public int SlotsUp { get; init; }

    /// <summary>
    /// Median interval while it repeated unchanged slots at a reduced rate: intervals of 250 ms up to the protocol's loss
    /// time between frames with equal slots; null when there were none.
    /// </summary>
    public Duration? KeepAlive { get; init; }

    /// <summary>Shortest, median, longest and number of the keep-alive intervals; null when there were none.</summary>
    public IntervalStatistics? KeepAliveIntervals { get; init; }

    /// <summary>Intervals between level frames; null with fewer than two.</summary>
    public IntervalStatistics? Intervals { get; init; }

    /// <summary>How those intervals are spread, in milliseconds.</summary>
    public IReadOnlyList<DistributionBar> IntervalBars { get; init; } = [];

    /// <summary>When the longest interval between level frames began.</summary>
    public Timestamp LongestSilenceFrom { get; init; }

    /// <summary>Sequence accounting.</summary>
    public required SequenceStatistics Sequence { get; init; }

    /// <summary>Priorities over time, oldest first; one entry of value 100 for protocols without priority is left out.</summary>
    public IReadOnlyList<PrioritySpan> Priorities { get; init; } = [];

    /// <summary>Changes of priority beyond those listed (the list is bounded).</summary>
    public long PrioritiesNotListed { get; init; }

    /// <summary>How often each slot count came in frames of START code 0, by slot count.</summary>
    public IReadOnlyList<CountOf> SlotCounts { get; init; } = [];

    /// <summary>How often each START code came, by code.</summary>
    public IReadOnlyList<CountOf> StartCodes { get; init; } = [];

    /// <summary>Packets with Stream_Terminated.</summary>
    public long Terminations { get; init; }

    /// <summary>True when it ended its stream and did not come back.</summary>
    public bool Terminated { get; init; }

    /// <summary>True when it stopped without termination more than the protocol's loss time before the end of the capture.</summary>
    public bool Silent { get; init; }

    /// <summary>Times it fell silent for longer than the protocol's loss time and came back, or was terminated and came back.</summary>
    public long Returns { get; init; }

    /// <summary>Frames marked as preview data.</summary>
    public long PreviewFrames { get; init; }

    /// <summary>Frames in the layout of the draft before ratification.</summary>
    public long DraftFrames { get; init; }

    /// <summary>Frames whose slots the capture's snap length cut.</summary>
    public long CutFrames { get; init; }

    /// <summary>Synchronization addresses asked for, other than 0, in order of appearance, at most eight.</summary>
    public IReadOnlyList<int> SyncAddresses { get; init; } = [];

    /// <summary>Where it went to other than the group of its universe, in order of appearance, at most 16.</summary>
    public IReadOnlyList<SendingPath> Paths { get; init; } = [];

    /// <summary>Frames that went to one receiver only.</summary>
    public long UnicastFrames { get; init; }

    /// <summary>Frames that went to every host of the network.</summary>
    public long BroadcastFrames { get; init; }

    /// <summary>Frames from or to another UDP port than the protocol's.</summary>
    public long OtherPortFrames { get; init; }

    /// <summary>Spread of the intervals under 250 ms; null when there were none.</summary>
    public RunningSpread? Spread { get; init; }

    /// <summary>Times it went from sending changes to keep-alive.</summary>
    public long RunsIntoKeepAlive { get; init; }

    /// <summary>Those with fewer than three equal packets before (E1.31-2018 section 6.6.2).</summary>
    public long ShortRunsIntoKeepAlive { get; init; }

    /// <summary>
    /// Packets behind a gap whose number follows that of the packet the same sender sent just before on another universe:
    /// nearly all of them when it has one count for all its universes.
    /// </summary>
    public long FollowsOverUniverses { get; init; }

    /// <summary>Packets that came again, and how; null when none did.</summary>
    public RepeatSnapshot? Repeats { get; init; }

    /// <summary>Its bursts; count 0 when there were none.</summary>
    public BurstSnapshot Bursts { get; init; }

    /// <summary>Second instances of packets sent over IPv4 and IPv6 at once; not counted in <see cref="Frames"/>.</summary>
    public long SecondInstances { get; init; }
}
