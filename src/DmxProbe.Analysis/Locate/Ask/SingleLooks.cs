namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Single looks: one unit of the sheet with its intensity and colours at full. They are what is left where ranges would put
/// a strobe or a programme of the unit into play (design, section 10).
/// </summary>
internal static class SingleLooks
{
    /// <summary>The looks, unit by unit; empty where the unit asked about can do worse than flash.</summary>
    public static IEnumerable<RaisedSlot[]> Of(AskRig rig, AskSafety safety)
    {
        foreach (AskUnit unit in safety.OnlyFlashes ? rig.Units.Where(unit => unit.Universe >= 0 && unit.Mode is not null) : [])
        {
            RaisedSlot[] raised =
            [
                .. Enumerable.Range(unit.Address, unit.Mode!.Footprint).Where(slot => slot <= SlotHistory.SlotCount && safety.UseOf(unit.Universe, slot) == SlotUse.Light)
                    .Select(slot => new RaisedSlot(unit.Universe, slot, byte.MaxValue)),
            ];
            if (raised.Length > 0)
            {
                yield return raised;
            }
        }
    }
}
