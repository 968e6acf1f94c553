using System.Globalization;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Says which slots would tell more, and why no question raises them.</summary>
internal static class NotRaised
{
    private const int Most = 2;
    private const byte Full = byte.MaxValue;

    /// <summary>A sentence or two about the likeliest place; empty where what may be raised lights it.</summary>
    public static string Words(AskRig rig, AskPosterior posterior, AskSafety safety)
    {
        int best = Likely.Of(posterior, 1)[0];
        if (ConfirmingLook.Find(rig, posterior, safety, best) is not null)
        {
            return "";
        }

        AskPlace place = rig.Space.PlaceAt(best);
        ChartMode mode = rig.Space.Modes[place.Mode];
        string[] reasons =
        [
            .. new LightModel(mode).LightSlots.Where(slot => mode.Find(slot)?.Role is SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber)
                .Select(slot => place.Address + slot - 1).Where(slot => slot <= SlotHistory.SlotCount)
                .Select(slot => Reason(rig, posterior, safety, place.Universe, slot)).Where(reason => reason.Length > 0).Take(Most),
        ];
        return reasons.Length == 0 ? "" : string.Create(
            CultureInfo.InvariantCulture,
            $"Likeliest is {At(rig, place.Universe, place.Address)} ({100 * posterior.Probability[best]:0} %). Nothing that may be raised lights it there: {string.Join("; ", reasons)}.");
    }

    private static string Reason(AskRig rig, AskPosterior posterior, AskSafety safety, int universe, int slot)
    {
        string named = At(rig, universe, slot);
        AskUnit? unit = rig.Units.FirstOrDefault(each => each.Universe == universe && slot >= each.Address && slot < each.Address + (each.Mode?.Footprint ?? 1));
        switch (safety.UseOf(universe, slot))
        {
            case SlotUse.Unpatched when !safety.Cleared.Contains(universe):
                return named + " is not on the sheet";
            case SlotUse.Closed or SlotUse.Hazard:
                string function = unit?.Mode?.Find(slot - unit.Address + 1)?.Function ?? "";
                return unit is null ? named + " is not understood" : $"{named} is {LocateWords.Plain(unit.Name)} {(function.Length > 0 ? LocateWords.Plain(function) : "without a chart")}";
            default:
                return safety.MayRaise(universe, slot, Full) ? "" : Own(rig, posterior, safety, universe, slot, named);
        }
    }

    /// <summary>Where the slot would be a dangerous one of the unit itself: the likeliest such place.</summary>
    private static string Own(AskRig rig, AskPosterior posterior, AskSafety safety, int universe, int slot, string named)
    {
        (double Chance, int Address, ChartSlot? Slot) worst = (0, 0, null);
        for (int m = 0; m < rig.Space.Modes.Count; m++)
        {
            ChartMode mode = rig.Space.Modes[m];
            for (int address = Math.Max(1, slot - mode.Footprint + 1); address <= slot; address++)
            {
                double chance = posterior.Probability[rig.Space.IndexOf(new AskPlace(universe, address, m))];
                int offset = slot - address + 1;
                if (chance > worst.Chance && safety.Dangers.At(m, offset, Full))
                {
                    worst = (chance, address, mode.Find(offset) ?? mode.Slots.FirstOrDefault(known => known.LowSlots.Contains(offset)));
                }
            }
        }

        return string.Create(
            CultureInfo.InvariantCulture,
            $"{named} would be {(worst.Slot is null ? "a slot of its own that nobody knows" : "its own " + LocateWords.Plain(worst.Slot.Function))} if it reads {At(rig, universe, worst.Address)} ({100 * worst.Chance:0.#} %)");
    }

    private static string At(AskRig rig, int universe, int slot) => AskWords.Slots(rig, [new RaisedSlot(universe, slot, Full)]);
}
