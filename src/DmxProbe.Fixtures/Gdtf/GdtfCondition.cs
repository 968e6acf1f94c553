using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>What a function depends on (ModeMaster), as a chart can say it.</summary>
/// <param name="State">Whether it can be said.</param>
/// <param name="When">The condition; null for none.</param>
internal readonly record struct GdtfCondition(GdtfConditionState State, SlotCondition? When)
{
    /// <summary>No condition.</summary>
    public static GdtfCondition None => new(GdtfConditionState.Slot, null);
}
