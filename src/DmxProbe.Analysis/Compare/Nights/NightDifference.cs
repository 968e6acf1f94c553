using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>One difference between two nights, grouped as a person would tell it.</summary>
public sealed record NightDifference
{
    /// <summary>What kind.</summary>
    public required NightDifferenceKind Kind { get; init; }

    /// <summary>What it is about: units, universes or senders by name; untrusted text.</summary>
    public required IReadOnlyList<string> Subjects { get; init; }

    /// <summary>When it begins tonight; null where there is no such moment tonight.</summary>
    public Timestamp? At { get; init; }

    /// <summary>When it was last night; null where there is no such moment.</summary>
    public Timestamp? AtLastNight { get; init; }

    /// <summary>Over how many cues; 0 where it concerns the whole night.</summary>
    public int Cues { get; init; }

    /// <summary>How it was last night.</summary>
    public required string LastNight { get; init; }

    /// <summary>How it is tonight.</summary>
    public required string Tonight { get; init; }

    /// <summary>Of levels: which slots (universe label, slot) and both levels, at most 64.</summary>
    public IReadOnlyList<NightSlotDifference> Slots { get; init; } = [];

    /// <summary>What to do about it, one sentence without a full stop.</summary>
    public string Action => NightAdvice.For(Kind);

    // Of two of a kind, the one with more of it first: how far the levels are off, over all slots and cues.
    internal long Weight => Slots.Sum(slot => (long)Math.Abs(slot.LastNight - slot.Tonight)) * Math.Max(1, Cues);
}
