using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>What the slots of one sender's stream on one universe did.</summary>
/// <param name="Sender">Who.</param>
/// <param name="Slots">Its slots, slot 1 first, as many as it ever sent.</param>
/// <param name="Followed">From its first levels to its last.</param>
public sealed record StreamActivity(SenderSummary Sender, IReadOnlyList<SlotActivity> Slots, Duration Followed)
{
    /// <summary>How many of its slots changed.</summary>
    public int Moving { get; } = Slots.Count(slot => slot.Changes > 0);

    /// <summary>How many slots of a range changed.</summary>
    /// <param name="address">First slot, from 1.</param>
    /// <param name="footprint">How many.</param>
    public int MovingIn(int address, int footprint) => Slots.Skip(address - 1).Take(footprint).Count(slot => slot.Changes > 0);
}
