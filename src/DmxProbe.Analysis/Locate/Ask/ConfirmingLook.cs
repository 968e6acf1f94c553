namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Finds the slots that light one place and as little else as possible.</summary>
internal static class ConfirmingLook
{
    private const double Surely = 0.9;

    // A look that rests on what stands elsewhere must leave this much more of the other places dark.
    private const double OfResting = 0.05;

    /// <summary>The slots to raise from a dark stage, or null when no safe ones light it.</summary>
    public static RaisedSlot[]? Find(AskRig rig, AskPosterior posterior, AskSafety safety, int index)
    {
        AskPlace place = rig.Space.PlaceAt(index);
        byte[][] dark = DarkStage.Of(rig, safety);
        LitScan scan = new(rig.Space, safety.Dangers, safety.Standing);
        RaisedSlot[]? best = null;
        double least = double.MaxValue;
        foreach (byte level in new byte[] { 255, safety.Level() }.Distinct())
        {
            RaisedSlot[] own =
            [
                .. Enumerable.Range(place.Address, rig.Space.Modes[place.Mode].Footprint)
                    .Where(slot => slot <= SlotHistory.SlotCount && safety.MayRaise(place.Universe, slot, level))
                    .Select(slot => new RaisedSlot(place.Universe, slot, level)),
            ];
            scan.Load(dark, posterior.Span);
            for (int from = 0; from < own.Length; from++)
            {
                for (int to = from; to < own.Length; to++)
                {
                    scan.Set(place.Universe, own[to].Slot, level);
                    Weigh(own[from..(to + 1)]);
                }

                Lower(own[(from + 1)..]);

                // A dimmer and one colour.
                for (int with = from + 2; with < own.Length; with++)
                {
                    scan.Set(place.Universe, own[with].Slot, level);
                    Weigh([own[from], own[with]]);
                    Lower([own[with]]);
                }

                Lower([own[from]]);
            }
        }

        foreach (RaisedSlot[] look in SingleLooks.Of(rig, safety).Where(_ => best is null))
        {
            scan.Load(dark, posterior.Span);
            Array.ForEach(look, slot => scan.Set(slot.Universe, slot.Slot, slot.Level));
            Weigh(look, AskSafety.MostRiskOfSingleLook);
        }

        return best;

        void Lower(RaisedSlot[] slots) => Array.ForEach(slots, slot => scan.Set(slot.Universe, slot.Slot, dark[slot.Universe][slot.Slot - 1]));

        void Weigh(RaisedSlot[] raised, double mostRisk = AskSafety.MostRisk)
        {
            double others = scan.LitMass - posterior.Span[index] + (1e-6 * raised.Length);
            if (scan.Risk <= mostRisk && others < least && scan.LitOf(index) > Surely)
            {
                others += scan.LitOfRaised(index) > Surely ? 0 : OfResting;
                if (others >= least)
                {
                    return;
                }

                (best, least) = (raised, others);
            }
        }
    }
}
