using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>One channel of a line recording: what it was taken for, and what was counted on it.</summary>
public sealed record LineChannelSummary
{
    /// <summary>Its name in the recording; untrusted text, may be empty.</summary>
    public required string Name { get; init; }

    /// <summary>What the reader says about it (assumptions about rate, threshold, column); untrusted text, may be empty.</summary>
    public required string Description { get; init; }

    /// <summary>What was made of it.</summary>
    public required LineChannelUse Use { get; init; }

    /// <summary>The line it is decoded as; null where it is not.</summary>
    public UniverseId? Line { get; init; }

    /// <summary>Which level is mark.</summary>
    public LinePolarity Polarity { get; init; }

    /// <summary>True where a person said so, false where it was found.</summary>
    public bool IsPolarityTold { get; init; }

    /// <summary>True where the other polarity would explain the channel better than the one told.</summary>
    public bool IsPolarityDoubtful { get; init; }

    /// <summary>Name of the channel that carries the other leg or the same signal; empty where none does.</summary>
    public string Partner { get; init; } = "";

    /// <summary>One sample period.</summary>
    public required Duration Resolution { get; init; }

    /// <summary>First moment recorded.</summary>
    public Timestamp First { get; init; }

    /// <summary>Length of the recording.</summary>
    public Duration Length { get; init; }

    /// <summary>Level changes.</summary>
    public long Edges { get; init; }

    /// <summary>Pulses shorter than a quarter of a bit, left out.</summary>
    public long Glitches { get; init; }

    /// <summary>Packets, cut ones included.</summary>
    public long Packets { get; init; }

    /// <summary>Packets that the recording cuts.</summary>
    public long CutPackets { get; init; }

    /// <summary>Characters of packets, START codes included.</summary>
    public long Characters { get; init; }

    /// <summary>Characters without a stop bit.</summary>
    public long FramingErrors { get; init; }

    /// <summary>Packets with pulses too short for a bit, or with a slot too many that begins between bits.</summary>
    public long DisturbedPackets { get; init; }

    /// <summary>Packets whose START code is one in use.</summary>
    public long KnownStarts { get; init; }

    /// <summary>Packets whose bits last as long as those of 250 kbit/s, within 2 % and what the sampling can tell.</summary>
    public long FittingBits { get; init; }

    /// <summary>
    /// Packets that can be of 250 kbit/s only: such bits, no framing error, edges where bits end, pulses of an odd number of
    /// bits, and the START code of the packet before.
    /// </summary>
    public long SoundPackets { get; init; }

    /// <summary>Bit time, mean over the packets, microseconds; NaN where there is none.</summary>
    public double BitTime { get; init; } = double.NaN;

    /// <summary>True where a person gave the sampling rate.</summary>
    public bool IsRateTold { get; init; }

    /// <summary>True where characters of 250 kbit/s can be read and no break: the recording ends before a packet begins, or none is sent.</summary>
    public bool IsWithoutBreak { get; init; }

    /// <summary>Packets whose START code has no stop bit.</summary>
    public long SpoiltStarts { get; init; }

    /// <summary>Why nothing may be judged by what was read; <see cref="LineDoubt.None"/> where nothing speaks against it.</summary>
    public LineDoubt Doubt => IsPolarityDoubtful ? LineDoubt.Polarity
        : HasSpoiltStarts || IsNothingInUse || IsToldRateOff ? LineDoubt.Rate
        : DisturbedPackets >= FewestToDoubt && DisturbedPackets > DisturbedShare * Packets ? LineDoubt.Disturbed
        : LineDoubt.None;

    /// <summary>
    /// True where the time base itself is in doubt: the sampling rate was told and does not fit, or the bits found do not last
    /// 4 us. Then nothing else that was read of the line counts.
    /// </summary>
    public bool IsTimeBaseDoubtful => Doubt == LineDoubt.Rate && (IsRateTold || FittingBits * 2 < Packets);

    /// <summary>True where most START codes have no stop bit, in three packets or more.</summary>
    internal bool HasSpoiltStarts => Packets >= FewestToDoubt && SpoiltStarts * 2 > Packets;

    /// <summary>True where no START code is in use, and the packets are not otherwise such as only a DMX512 line has.</summary>
    internal bool IsNothingInUse => KnownStarts == 0
        && (Packets >= FewestToDoubt ? SoundPackets * 2 <= Packets : Packets > 0 && FittingBits == 0);

    /// <summary>True where the bits of most packets are not those of 250 kbit/s by the sampling rate that a person gave.</summary>
    internal bool IsToldRateOff => IsRateTold && Packets > 0 && FittingBits * 2 < Packets && !double.IsNaN(BitTime);

    // Common practice, no source: three packets are no accident, and one packet in a hundred is a fault to look for first.
    private const int FewestToDoubt = 3;
    private const double DisturbedShare = 0.01;

    /// <summary>Framing errors by place: START code or slot, and how often; the most frequent first, at most eight.</summary>
    public IReadOnlyList<(int Slot, long Count)> FramingErrorSlots { get; init; } = [];

    /// <summary>Pulses measured inside characters.</summary>
    public long Pulses { get; init; }

    /// <summary>Edges inside characters that stand between bits.</summary>
    public long EdgesOffGrid { get; init; }

    /// <summary>Low pulses before the first break: of a packet whose start was missed, which is none.</summary>
    public long PulsesBeforeBreak { get; init; }

    /// <summary>Characters without a break that are no answer to discovery.</summary>
    public long StrayCharacters { get; init; }

    /// <summary>Breaks without a character after them.</summary>
    public long EmptyBreaks { get; init; }

    /// <summary>Answers to DISC_UNIQUE_BRANCH that decode.</summary>
    public long DiscoveryReplies { get; init; }

    /// <summary>Answers to it that do not: several at once, which is normal there.</summary>
    public long DiscoveryCollisions { get; init; }

    /// <summary>RDM packets whose checksum or length is wrong.</summary>
    public long DamagedRdm { get; init; }

    /// <summary>Stretches where samples are missing, the beginning not counted.</summary>
    public long Gaps { get; init; }
}
