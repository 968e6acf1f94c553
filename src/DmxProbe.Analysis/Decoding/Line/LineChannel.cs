using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>One channel of a line recording: first held until it is known how to read it, then read.</summary>
internal sealed class LineChannel(CaptureInterface about, LineRate rate)
{
    // Packets after which a channel is known for what it is, whichever way round.
    private const int EnoughPackets = 16;

    private LineCharacters? _characters;
    private long _firstTick = -1;
    private long _lastTick;

    /// <summary>The interface.</summary>
    public CaptureInterface About => about;

    /// <summary>Its clock.</summary>
    public LineRate Rate => rate;

    /// <summary>Records held.</summary>
    public HeldRuns Held { get; } = new();

    /// <summary>What was made of it; null while it waits.</summary>
    public LineChannelUse? Use { get; set; }

    /// <summary>Which level is mark.</summary>
    public LinePolarity Polarity { get; set; }

    /// <summary>A person said which.</summary>
    public bool IsPolarityTold { get; set; }

    /// <summary>A person said how fast it was sampled.</summary>
    public bool IsRateTold { get; init; }

    /// <summary>Characters can be read on it, and no break: the recording ends before a packet begins.</summary>
    public bool IsWithoutBreak { get; set; }

    /// <summary>The other polarity explains it better.</summary>
    public bool IsPolarityDoubtful { get; set; }

    /// <summary>The channel with the other leg or the same signal.</summary>
    public LineChannel? Partner { get; set; }

    /// <summary>Where its packets go; null while it is not decoded.</summary>
    public LineOutput? Output { get; private set; }

    /// <summary>Edges seen.</summary>
    public long Edges { get; private set; }

    /// <summary>Edges seen when it began to be held.</summary>
    public long EdgesBeforeHeld { get; set; }

    /// <summary>Gaps after its beginning.</summary>
    public long Gaps { get; private set; }

    /// <summary>First moment.</summary>
    public Timestamp First { get; private set; }

    /// <summary>Moment up to which it is known.</summary>
    public Timestamp Until { get; private set; }

    /// <summary>When the first of the edges held came; null without one.</summary>
    public Timestamp? FirstHeldEdge { get; set; }

    /// <summary>True after the run that ends it.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>True where edges are held.</summary>
    public bool HoldsEdges => Edges > EdgesBeforeHeld;

    /// <summary>Counts what a record holds and where it ends.</summary>
    public void Count(in CaptureRecord record, in EdgeRun run)
    {
        if (_firstTick < 0)
        {
            _firstTick = run.StartTick;
            First = record.Time;
        }
        else if ((run.Flags & EdgeRunFlags.Gap) != 0)
        {
            Gaps++;
        }

        long ticks = run.Tail;
        int edges = 0;
        foreach (uint step in run.Steps)
        {
            ticks += step;
            edges += step == EdgeRun.NoEdge ? 0 : 1;
        }

        _lastTick = run.StartTick + ticks;
        Edges += edges;
        Until = First + rate.Nanoseconds(_lastTick - _firstTick);
        HasEnded = (run.Flags & EdgeRunFlags.Last) != 0;
        if (edges > 0)
        {
            FirstHeldEdge ??= record.Time;
        }
    }

    /// <summary>Reads what is held under a polarity, only counting.</summary>
    /// <param name="polarity">Which level is mark.</param>
    /// <param name="isInPacket">True to read from the first mark on as if a packet had begun there: characters count that no break stands before.</param>
    public LineProbe Probe(LinePolarity polarity, bool isInPacket = false)
    {
        LineProbe probe = new();
        LineCharacters characters = new(rate, new LinePackets(rate, probe)) { BeginsInPacket = isInPacket };
        for (int i = 0; i < Held.Count && probe.Packets < EnoughPackets; i++)
        {
            EdgeRun run = Held.Run(i, out _, out _);
            characters.Feed(in run, polarity == LinePolarity.MarkLow);
        }

        // The stretch may end in the middle of the only packet: it counts.
        characters.End(_lastTick);
        return probe;
    }

    /// <summary>Begins to decode, with what is held.</summary>
    public void Begin(LineOutput output, IFrameSink sink)
    {
        Output = output;
        _characters = new LineCharacters(rate, new LinePackets(rate, output));
        for (int i = 0; i < Held.Count; i++)
        {
            EdgeRun run = Held.Run(i, out long number, out Timestamp time);
            Feed(in run, number, time, sink);
        }

        Held.Clear();
    }

    /// <summary>Decodes a run.</summary>
    public void Feed(in EdgeRun run, long number, Timestamp time, IFrameSink sink)
    {
        Output!.Into(sink, number, run.StartTick, time);
        _characters!.Feed(in run, Polarity == LinePolarity.MarkLow);
    }

    /// <summary>The input has ended: closes what stands open.</summary>
    public void Finish(IFrameSink sink)
    {
        if (Output is not null)
        {
            Output.Into(sink);
            _characters!.End(_lastTick);
        }
    }

    /// <summary>What is to be said about it.</summary>
    public LineChannelSummary Summary() => new()
    {
        Name = about.Name,
        Description = about.Description,
        Use = Use ?? (Edges == 0 ? LineChannelUse.Silent : LineChannelUse.NotDmx),
        Line = Output?.Universe,
        Polarity = Polarity,
        IsPolarityTold = IsPolarityTold,
        IsPolarityDoubtful = IsPolarityDoubtful,
        IsRateTold = IsRateTold,
        IsWithoutBreak = Output is null && IsWithoutBreak,
        Partner = Partner?.About.Name ?? "",
        Resolution = about.Resolution,
        First = First,
        Length = Until - First,
        Edges = Edges,
        Gaps = Gaps,
        Glitches = _characters?.Glitches ?? 0,
        PulsesBeforeBreak = _characters?.PulsesBeforeBreak ?? 0,
        Packets = Output?.Packets ?? 0,
        CutPackets = Output?.CutPackets ?? 0,
        Characters = Output?.Characters ?? 0,
        FramingErrors = Output?.FramingErrors ?? 0,
        DisturbedPackets = Output?.DisturbedPackets ?? 0,
        KnownStarts = Output?.KnownStarts ?? 0,
        FittingBits = Output?.FittingBits ?? 0,
        SoundPackets = Output?.SoundPackets ?? 0,
        SpoiltStarts = Output?.SpoiltStarts ?? 0,
        BitTime = Output?.BitTime ?? double.NaN,
        FramingErrorSlots = Output?.FramingErrorSlots ?? [],
        Pulses = Output?.Pulses ?? 0,
        EdgesOffGrid = Output?.EdgesOffGrid ?? 0,
        StrayCharacters = Output?.StrayCharacters ?? 0,
        EmptyBreaks = Output?.EmptyBreaks ?? 0,
        DiscoveryReplies = Output?.DiscoveryReplies ?? 0,
        DiscoveryCollisions = Output?.DiscoveryCollisions ?? 0,
        DamagedRdm = Output?.DamagedRdm ?? 0,
    };
}
