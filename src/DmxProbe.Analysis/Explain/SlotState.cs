using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>One slot of a unit at one time, as one sender sends it.</summary>
public sealed record SlotState
{
    /// <summary>Place in the mode, from 1.</summary>
    public required int Slot { get; init; }

    /// <summary>Slot of the universe; above 512 where the footprint runs past it.</summary>
    public required int Address { get; init; }

    /// <summary>What the chart says about the slot; null where it says nothing: unknown.</summary>
    public required ChartSlot? Chart { get; init; }

    /// <summary>What the chart says about the value; null where it says nothing or nothing is sent.</summary>
    public required ChartRange? Range { get; init; }

    /// <summary>The value; -1 when the sender never sent this slot.</summary>
    public required int Value { get; init; }

    /// <summary>The value before the last change; -1 when it never changed.</summary>
    public int Previous { get; init; } = -1;

    /// <summary>When the value last changed; null when it has been the same since the sender was first heard.</summary>
    public Timestamp? Changed { get; init; }

    /// <summary>Since when what the value means has been so; null = since the sender was first heard.</summary>
    public Timestamp? MeaningSince { get; init; }

    /// <summary>How often it changed up to then.</summary>
    public long Changes { get; init; }
}
