namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Puts slots that stand side by side together.</summary>
public static class SlotRuns
{
    /// <summary>The runs, in order.</summary>
    public static IReadOnlyList<SlotRun> Of(IEnumerable<RaisedSlot> raised)
    {
        ArgumentNullException.ThrowIfNull(raised);
        List<SlotRun> runs = [];
        foreach (RaisedSlot slot in raised.OrderBy(slot => slot.Universe).ThenBy(slot => slot.Slot))
        {
            if (runs.Count > 0 && runs[^1] is var last && last.Universe == slot.Universe && last.To + 1 == slot.Slot && last.Level == slot.Level)
            {
                runs[^1] = last with { To = slot.Slot };
            }
            else
            {
                runs.Add(new SlotRun(slot.Universe, slot.Slot, slot.Slot, slot.Level));
            }
        }

        return runs;
    }
}
