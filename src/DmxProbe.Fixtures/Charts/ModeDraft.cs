using DmxProbe.Fixtures.Light;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>The rows of one mode of a chart as CSV.</summary>
internal sealed class ModeDraft(string name)
{
    public SortedDictionary<int, SlotDraft> Slots { get; } = [];

    /// <summary>The mode; what is wrong is added to the problems, and then the mode is of no use.</summary>
    public ChartMode Build(ProblemList problems)
    {
        List<ChartSlot> started = [];
        foreach (SlotDraft draft in Slots.Values)
        {
            ChartSlot start = draft.Start(problems);
            started.Add(draft.Low is { } low ? start with { LowSlots = low } : start);
        }

        Dictionary<int, IReadOnlyList<int>> byName = FineSlots.ByName(started);
        Dictionary<int, ChartSlot> known = started
            .Select(slot => slot.LowSlots.Count == 0 && byName.TryGetValue(slot.Slot, out IReadOnlyList<int>? low) ? slot with { LowSlots = low } : slot)
            .ToDictionary(slot => slot.Slot);
        List<ChartSlot> built = [];
        foreach (SlotDraft draft in Slots.Values)
        {
            ChartSlot slot = known[draft.Slot];
            List<ExactRange> ranges = draft.Exact(name, slot, other => known.TryGetValue(other, out ChartSlot? master) ? master.Bytes : 0, problems);
            built.Add(problems.Any ? slot : SlotDetail.With(slot, ranges));
        }

        return new ChartMode(name, built, Slots.Keys.Max());
    }
}
