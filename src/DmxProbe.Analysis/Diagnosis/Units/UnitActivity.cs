using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>What one unit was told over the whole input, by the sender that has the say on its universe.</summary>
public sealed record UnitActivity
{
    /// <summary>The unit.</summary>
    public required WatchedUnit Watched { get; init; }

    /// <summary>Its universe on the wire; null where the sheet's universe is not known there.</summary>
    public UniverseId? Universe { get; init; }

    /// <summary>Who sends it; null when nobody does.</summary>
    public SenderSummary? Sender { get; init; }

    /// <summary>Most slots of the universe in one frame; 0 when nobody sends it.</summary>
    public int SlotsSent { get; init; }

    /// <summary>How long it was followed.</summary>
    public Duration Followed { get; init; }

    /// <summary>First levels of its sender; default when nobody sends it.</summary>
    public Timestamp First { get; init; }

    /// <summary>Last levels of its sender.</summary>
    public Timestamp Last { get; init; }

    /// <summary>When its slots last changed, to the step in which it is looked at; null where they never did or it is not watched.</summary>
    public Timestamp? LastChange { get; init; }

    /// <summary>Its slots, first one at the start address; shorter than the footprint where not all are sent.</summary>
    public IReadOnlyList<SlotActivity> Slots { get; init; } = [];

    /// <summary>Conditions that held at some time.</summary>
    public IReadOnlyList<ConditionSpan> Conditions { get; init; } = [];

    /// <summary>Whether all its slots are sent.</summary>
    public bool IsSent => Sender is not null && Slots.Count >= Watched.Footprint;

    /// <summary>How often any of its slots changed.</summary>
    public long Changes => Slots.Sum(slot => (long)slot.Changes);

    /// <summary>The span of a condition; default where it never held.</summary>
    public ConditionSpan Of(UnitConditions condition) => Conditions.FirstOrDefault(span => span.Condition == condition);
}
