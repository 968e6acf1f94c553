using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Walk;

/// <summary>One function of one unit: a slot, with its low byte where it has one.</summary>
public sealed record WalkFunction
{
    /// <summary>Index of the unit among the targets.</summary>
    public required int Target { get; init; }

    /// <summary>Place in the mode of the slot, from 1.</summary>
    public required int Slot { get; init; }

    /// <summary>Place of its low byte; 0 when it has none.</summary>
    public int Fine { get; init; }

    /// <summary>What the chart says; null where it says nothing.</summary>
    public required ChartSlot? Chart { get; init; }

    /// <summary>Times it was moved alone.</summary>
    public long Alone { get; internal set; }

    /// <summary>Times it was moved together with the same function of other units.</summary>
    public long Together { get; internal set; }

    /// <summary>Times it was moved within a cue.</summary>
    public long InCue { get; internal set; }

    /// <summary>Lowest value while it was moved; 255 before.</summary>
    public int Lowest { get; internal set; } = 255;

    /// <summary>Highest value while it was moved; 0 before.</summary>
    public int Highest { get; internal set; }

    /// <summary>Which of the chart's ranges were visited while it was moved alone or together, by index.</summary>
    public IReadOnlyList<bool> Visited => VisitedRanges;

    /// <summary>Name of the function; untrusted text.</summary>
    public string Name => Chart?.Function ?? "not on the chart";

    /// <summary>Why it is not to be exercised; empty when it may be.</summary>
    public string Danger => Chart is null ? "not understood" : DangerousSlots.Why(Chart);

    /// <summary>Whether the chart says that it does nothing.</summary>
    public bool DoesNothing => Chart is { Role: SlotRole.None };

    /// <summary>Whether it was exercised: moved alone or in a group.</summary>
    public bool Exercised => Alone + Together > 0;

    /// <summary>The same, to be filled.</summary>
    internal bool[] VisitedRanges { get; init; } = [];
}
