using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Index;

/// <summary>What one sender sent on a slot over a span.</summary>
/// <param name="Sender">Who sent it.</param>
/// <param name="Changes">The level at the start of the span, with the time since when it was that, then each change; by time.</param>
public sealed record SlotSeries(SenderSummary Sender, IReadOnlyList<SlotLevelAt> Changes)
{
    /// <summary>The slot, from 1.</summary>
    public int Slot { get; init; }
}
