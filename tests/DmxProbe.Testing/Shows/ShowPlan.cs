using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Shows;

/// <summary>A long cued show on many universes, and one night of it.</summary>
public sealed record ShowPlan
{
    /// <summary>Which show: looks, gaps and fades of its cues.</summary>
    public ulong Show { get; init; } = 1;

    /// <summary>Which night: when the operator presses, and how packets are late.</summary>
    public ulong Night { get; init; } = 1;

    /// <summary>Universes, numbered from 1.</summary>
    public int Universes { get; init; } = 200;

    /// <summary>Length.</summary>
    public double Seconds { get; init; } = 14_400;

    /// <summary>Time of the first packet, about.</summary>
    public Timestamp Start { get; init; } = Timestamp.FromUnixNanoseconds(1_773_518_400_000_000_000);

    /// <summary>Each cue comes up to this much earlier or later than in the show, in seconds; cues stay in order.</summary>
    public double OperatorSeconds { get; init; }

    /// <summary>Shortest time between cues, in seconds.</summary>
    public double ShortestGap { get; init; } = 2;

    /// <summary>Mean of what comes on top of it (exponential), in seconds.</summary>
    public double MeanGap { get; init; } = 10;

    /// <summary>Packets a second while levels move, and always where <see cref="ConstantRate"/>.</summary>
    public double RateHz { get; init; } = 44;

    /// <summary>True to send at every tick, as many controllers do; false to send changes, three repeats and keep-alives.</summary>
    public bool ConstantRate { get; init; }

    /// <summary>Share of slots of every universe that run effects and change in almost every frame, 0 to 1.</summary>
    public double Effects { get; init; }

    /// <summary>Cues that the night leaves out, by number from 0.</summary>
    public IReadOnlySet<int> Skipped { get; init; } = new HashSet<int>();

    /// <summary>Changes a universe of this night: what is on its slots, and how it is sent.</summary>
    public IReadOnlyList<ShowEdit> Edits { get; init; } = [];
}
