using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Patch;

/// <summary>The slots of one unit that can hurt or do harm, by its chart; a unit without a chart is dangerous whole.</summary>
/// <param name="Unit">The unit; untrusted text.</param>
/// <param name="Slots">Its dangerous slots.</param>
public sealed record DangerousSlots(string Unit, IReadOnlyList<DangerousSlot> Slots)
{
    /// <summary>The dangerous slots of a sheet, in its order; units without any are left out, and units without a chart too (their finding says so).</summary>
    public static IReadOnlyList<DangerousSlots> Of(PatchSheet sheet, ChartSet charts)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        List<DangerousSlots> found = [];
        foreach (PatchUnit unit in sheet.Units)
        {
            if (charts.Find(unit.Type, unit.Mode) is not { } mode)
            {
                continue;
            }

            DangerousSlot[] slots = [.. mode.Slots.Where(slot => Why(slot).Length > 0).Select(slot => new DangerousSlot(unit.Universe, unit.Address + slot.Slot - 1, slot.Function, Why(slot)))];
            if (slots.Length > 0)
            {
                found.Add(new DangerousSlots(unit.Unit, slots));
            }
        }

        return found;
    }

    /// <summary>Why a slot is not to be exercised; empty when it may be.</summary>
    public static string Why(ChartSlot slot)
    {
        ArgumentNullException.ThrowIfNull(slot);
        return slot.Role switch
        {
            SlotRole.Hazard => "can hurt",
            SlotRole.Control => "reset, lamp or control",
            SlotRole.Unknown => "not understood",
            _ when slot.Ranges.Any(range => range.Effect == RangeEffect.ControlAction) || slot.Exact.Any(range => range.Effect == RangeEffect.ControlAction) => "reset, lamp or control",
            _ => "",
        };
    }
}
