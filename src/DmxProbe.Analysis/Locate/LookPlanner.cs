using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Finds a look that splits what is still open. Only intensity and colour slots of units on the sheet are ever raised,
/// and only where no candidate has anything but intensity or colour on them: never a slot that may be movement, strobe,
/// programme, speed, reset, lamp, a machine, unknown or not on the sheet.
/// </summary>
public static class LookPlanner
{
    private const float LitFrom = 0.05f;

    /// <summary>Finds the look that splits the posterior most evenly; of equal ones the one with fewest slots.</summary>
    /// <param name="question">What the inference was told.</param>
    /// <param name="own">The unit itself as the sheet has it; its slots are on the sheet too.</param>
    /// <param name="candidates">What is still open, at least one. With one only, a look that lights it is sought.</param>
    /// <returns>The look, or null where no safe one tells anything.</returns>
    public static SplittingLook? Find(LocateQuestion question, OtherUnit? own, IReadOnlyList<LocateCandidate> candidates)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(candidates);
        LightModel[] models = [.. question.Modes.Select(mode => new LightModel(mode))];
        SplittingLook? best = null;
        double bestValue = 0;
        foreach (OtherUnit unit in own is null ? question.Others : question.Others.Append(own))
        {
            if (unit.History < 0 || !candidates.Any(candidate => Touches(unit, candidate, question.Modes)))
            {
                continue;
            }

            SlotLevel[] safe = [.. SafeSlots(unit, question, candidates)];
            foreach (SlotLevel[] raise in safe.Select(slot => new[] { slot }).Append(safe))
            {
                if (raise.Length == 0)
                {
                    continue;
                }

                SplittingLook look = Try(question, models, unit, raise, candidates);
                double value = Value(look, candidates) - (1e-4 * raise.Length);
                if (value > bestValue)
                {
                    (best, bestValue) = (look, value);
                }
            }
        }

        return best;
    }

    /// <summary>Intensity and colour slots of a unit that nothing else on the sheet and no candidate uses otherwise.</summary>
    private static IEnumerable<SlotLevel> SafeSlots(OtherUnit unit, LocateQuestion question, IReadOnlyList<LocateCandidate> candidates)
    {
        foreach (ChartSlot slot in unit.Mode.Slots)
        {
            int at = unit.Address + slot.Slot - 1;
            bool ours = IsLight(slot) && at <= SlotHistory.SlotCount;
            bool others = question.Others.All(other => other == unit || other.History != unit.History || IsLightOrOutside(other.Mode, at - other.Address + 1));
            bool open = candidates.All(candidate => candidate.Hypothesis.History != unit.History ||
                IsLightOrOutside(question.Modes[candidate.Hypothesis.Mode], at - candidate.Hypothesis.Address + 1));
            if (ours && others && open)
            {
                yield return new SlotLevel(at, 255);
            }
        }
    }

    private static SplittingLook Try(
        LocateQuestion question, LightModel[] models, OtherUnit unit, SlotLevel[] raise, IReadOnlyList<LocateCandidate> candidates)
    {
        List<LocateCandidate> lit = [];
        List<LocateCandidate> dark = [];
        byte[] levels = new byte[SlotHistory.SlotCount];
        foreach (LocateCandidate candidate in candidates)
        {
            // From a dark stage: only what a shutter needs to stay open is taken from the end of the capture.
            ChartMode mode = question.Modes[candidate.Hypothesis.Mode];
            SlotHistory history = question.Histories[candidate.Hypothesis.History];
            Array.Clear(levels);
            foreach (ChartSlot slot in mode.Slots.Where(slot => !IsLight(slot)))
            {
                int at = candidate.Hypothesis.Address + slot.Slot - 1;
                if (at <= SlotHistory.SlotCount)
                {
                    levels[at - 1] = history[at - 1].Current;
                }
            }

            if (candidate.Hypothesis.History == unit.History)
            {
                foreach (SlotLevel slot in raise)
                {
                    levels[slot.Slot - 1] = slot.Level;
                }
            }

            int present = Math.Min(mode.Footprint, SlotHistory.SlotCount + 1 - candidate.Hypothesis.Address);
            LightOutput light = models[candidate.Hypothesis.Mode].Predict(levels.AsSpan(candidate.Hypothesis.Address - 1, present));
            (light.Predictable && light.Luminance >= LitFrom ? lit : dark).Add(candidate);
        }

        return new SplittingLook(question.Histories[unit.History].Universe, unit.Name, raise, lit, dark);
    }

    /// <summary>1 for an even split (or, of one candidate, for lighting it), 0 where nothing is told.</summary>
    private static double Value(SplittingLook look, IReadOnlyList<LocateCandidate> candidates)
    {
        if (candidates.Count == 1)
        {
            return look.Lit.Count;
        }

        double all = candidates.Sum(candidate => candidate.Score);
        double lit = look.Lit.Sum(candidate => candidate.Score) / Math.Max(all, 1e-12);
        return look.Lit.Count == 0 || look.Dark.Count == 0 ? 0 : 0.01 + (2 * Math.Min(lit, 1 - lit));
    }

    private static bool Touches(OtherUnit unit, LocateCandidate candidate, IReadOnlyList<ChartMode> modes) =>
        candidate.Hypothesis.History == unit.History &&
        candidate.Hypothesis.Address < unit.Address + unit.Mode.Footprint &&
        unit.Address < candidate.Hypothesis.Address + modes[candidate.Hypothesis.Mode].Footprint;

    private static bool IsLight(ChartSlot slot) =>
        slot.Role is SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber &&
        slot.Ranges.All(range => range.Effect is RangeEffect.Proportional or RangeEffect.Open or RangeEffect.Closed or RangeEffect.NoFunction);

    /// <summary>A slot of a mode by its number: light, or not of this unit at all. A gap in the chart is unknown.</summary>
    private static bool IsLightOrOutside(ChartMode mode, int slot) =>
        slot < 1 || slot > mode.Footprint || mode.Slots.Any(known => known.Slot == slot && IsLight(known));
}
