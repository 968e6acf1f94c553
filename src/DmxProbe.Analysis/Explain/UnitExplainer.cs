using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>Turns the slots of a unit into what it should be doing and why. Pure.</summary>
public static class UnitExplainer
{
    /// <summary>Explains a unit.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="universe">Its universe on the wire; null when it is not in the capture.</param>
    /// <param name="trace">Its slots, followed up to the time asked.</param>
    /// <param name="describe">Names a sender by its index.</param>
    /// <param name="obeyed">Who was obeyed over time on that universe.</param>
    /// <param name="at">The time asked.</param>
    /// <param name="winners">Who decides each of its slots at that time; null where that is not known.</param>
    public static Explanation Explain(
        PatchUnit unit,
        UniverseId? universe,
        SlotTraceAnalyzer trace,
        Func<int, SenderSummary> describe,
        IReadOnlyList<ObeyedSpan> obeyed,
        Timestamp at,
        IReadOnlyList<SlotAnswer>? winners = null)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(describe);
        ArgumentNullException.ThrowIfNull(obeyed);
        ObeyedSpan? span = obeyed.LastOrDefault(known => known.From <= at && at <= known.To);
        LightModel model = new(trace.Mode);
        bool contested = winners is not null && winners.Any(answer => answer.Contenders.Count > 1 || answer.Cases.Count > 1 || answer.Sync != SyncState.None);
        HashSet<int>? deciding = contested ? [.. winners!.SelectMany(answer => answer.Cases).SelectMany(each => each.Senders)] : null;
        List<SenderView> views = [];
        Dictionary<int, IReadOnlyList<SlotState>> bySender = [];
        for (int stream = 0; stream < trace.StreamCount; stream++)
        {
            if (trace.Snapshot(stream) is var (its, sender, first, last, slots) && its == universe)
            {
                bool present = at - last <= ProtocolTimes.LossOf(its.Protocol);
                bool inCharge = present && (deciding?.Contains(sender) ?? (span is null || span.Senders.Contains(sender)));
                bySender[sender] = slots;
                (UnitState state, LightOutput light, List<Reason> reasons) = Judge(model, unit, slots);
                views.Add(new SenderView(describe(sender), inCharge, inCharge ? span?.Priority ?? -1 : -1, first, last, state, light, reasons, slots));
            }
        }

        return new Explanation(unit, trace.Mode, universe, at, [.. views.OrderByDescending(view => view.InCharge).ThenByDescending(view => view.Last)])
        {
            Winners = contested ? winners! : [],
            PutOut = contested && bySender.Count > 0 ? PutOut(model, trace.Mode, unit, winners!, bySender) : [],
        };
    }

    // The unit slot by slot from whoever decides each. Where one sender decides all of it, its own view says the same.
    private static List<PutOutView> PutOut(LightModel model, ChartMode mode, PatchUnit unit, IReadOnlyList<SlotAnswer> winners, Dictionary<int, IReadOnlyList<SlotState>> bySender)
    {
        bool differ = winners.Any(answer => Choices(answer).Length > 1);
        bool held = winners.Any(answer => answer.Sync != SyncState.None);
        int senders = winners.SelectMany(answer => Choices(answer)[0].Senders).Distinct().Count();
        List<PutOutView> views = [];
        if (!differ && !held && senders <= 1)
        {
            return views;
        }

        for (int choice = 0; choice < (differ ? 2 : 1); choice++)
        {
            int footprint = mode.Footprint;
            SlotCase?[] cases = [.. Enumerable.Range(0, footprint).Select(slot => slot < winners.Count ? Choices(winners[slot])[Math.Min(choice, Choices(winners[slot]).Length - 1)] : null)];
            if (cases.Any(each => each is { IsDecided: false, Value: < 0 }))
            {
                // What receivers do with it is their own choice: then the senders' own views are all there is.
                return [];
            }

            byte[] values = [.. cases.Select(each => (byte)Math.Max(each?.Value ?? 0, 0))];
            SlotState[] slots = [.. cases.Select((each, index) => State(mode, unit, index, each, values, bySender))];
            (UnitState state, LightOutput light, List<Reason> reasons) = Judge(model, unit, slots);
            WinCondition condition = winners.Select(answer => Choices(answer)).FirstOrDefault(all => all.Length > 1) is { } all ? all[choice].Condition : WinCondition.Always;
            SenderSummary none = new() { Index = -1, Protocol = winners[0].Universe.Protocol, Name = "", Address = "", Addresses = [] };
            views.Add(new PutOutView(condition, new SenderView(none, true, -1, default, default, state, light, reasons, slots)));
        }

        return views;
    }

    private static SlotCase[] Choices(SlotAnswer answer) => [.. answer.Cases.Where(each => each.Condition != WinCondition.WithoutSynchronization)];

    private static SlotState State(ChartMode mode, PatchUnit unit, int index, SlotCase? found, byte[] values, Dictionary<int, IReadOnlyList<SlotState>> bySender)
    {
        int value = found is { Senders.Count: > 0 } or { Rule: WinRule.NotSourced } ? found.Value : -1;
        SlotState? own = found?.Senders.Select(sender => bySender.GetValueOrDefault(sender)?[index]).FirstOrDefault(state => state is not null);
        SlotMove? moved = found?.Moved;
        return new SlotState
        {
            Slot = index + 1,
            Address = unit.Address + index,
            Chart = mode.Find(index + 1),
            Range = value < 0 ? null : mode.RangeAt(index + 1, values),
            Value = value,
            Previous = moved?.From ?? -1,
            Changed = moved?.Time,
            MeaningSince = Later(own?.MeaningSince, found?.Since),
            Changes = own?.Changes ?? 0,
        };
    }

    private static Timestamp? Later(Timestamp? left, Timestamp? right) => left is null ? right : right is null || left > right ? left : right;

    /// <summary>Whether a slot is the mixing of a colour.</summary>
    internal static bool IsColour(SlotRole? role) => role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet;

    private static (UnitState State, LightOutput Light, List<Reason> Reasons) Judge(LightModel model, PatchUnit unit, IReadOnlyList<SlotState> slots)
    {
        string Place(SlotState slot) => string.Create(CultureInfo.InvariantCulture, $"{unit.Universe}.{slot.Address:000}");
        SlotState[] missing = [.. slots.Where(slot => slot.Value < 0)];
        if (missing.Length > 0)
        {
            string which = missing.Length == slots.Count ? "none of its slots" : string.Create(CultureInfo.InvariantCulture, $"its slots from {Place(missing[0])} on");
            return (UnitState.NotSent, default, [new Reason(missing.Length == slots.Count ? $"{which} is sent" : $"{which} are not sent", missing[0].Slot, null)]);
        }

        LightOutput light = model.Predict([.. slots.Select(slot => (byte)slot.Value)]);
        List<Reason> over = [.. slots.Where(TakesOver).Select(slot => new Reason(OverText(slot, Place(slot), slots), slot.Slot, slot.MeaningSince))];
        SlotState? strobe = slots.FirstOrDefault(slot => slot is { Chart.Role: SlotRole.Shutter or SlotRole.Intensity, Range.Effect: RangeEffect.Flashing });
        List<Reason> dark = Dark(slots, strobe is not null, Place);
        if (over.Count > 0)
        {
            return (UnitState.NotPredictable, light, [.. over, .. dark]);
        }

        if (!slots.Any(slot => slot.Chart?.Role is SlotRole.Intensity or SlotRole.Shutter || IsColour(slot.Chart?.Role)))
        {
            // It may be running all the same, so what it is told is said and nothing is made of it.
            return (UnitState.NoLight, light, [.. slots.Select(slot => new Reason($"{Named(slot, Place(slot))} is {Said(slot)}", slot.Slot, slot.MeaningSince))]);
        }

        if (light.Predictable && light.Luminance <= 0)
        {
            return (UnitState.Dark, light, dark.Count > 0 ? dark : [new Reason("nothing in it is told to give light", 0, null)]);
        }

        if (strobe is not null && !light.Predictable)
        {
            return (UnitState.Flashing, light, [new Reason($"{Named(strobe, Place(strobe))} is {Said(strobe)}", strobe.Slot, strobe.MeaningSince)]);
        }

        return light.Predictable
            ? (UnitState.Lit, light, [])
            : (UnitState.NotPredictable, light, [new Reason("the chart does not say what these values do", 0, null)]);
    }

    private static bool TakesOver(SlotState slot) => slot switch
    {
        { Range.Effect: RangeEffect.ProgrammeRuns or RangeEffect.ControlAction } => true,
        { Chart.Role: SlotRole.Programme } => slot.Range?.Effect != RangeEffect.NoFunction,
        { Chart.Role: SlotRole.Intensity or SlotRole.Shutter } => slot.Range?.Effect is null or RangeEffect.Unknown,
        _ => IsColour(slot.Chart?.Role) && (slot.Range?.Effect is null or RangeEffect.Unknown),
    };

    private static string OverText(SlotState slot, string place, IReadOnlyList<SlotState> slots)
    {
        string said = $"{Named(slot, place)} is {Said(slot)}";
        if (slot.Range?.Effect == RangeEffect.ControlAction)
        {
            return said + ": a reset, lamp or control action";
        }

        if (slot.Chart!.Role == SlotRole.Programme || slot.Range?.Effect == RangeEffect.ProgrammeRuns)
        {
            bool colours = slots.Any(other => IsColour(other.Chart?.Role));
            string function = slot.Chart.Function;
            return said + (colours && (function.Contains("colo", StringComparison.OrdinalIgnoreCase) || function.Contains("macro", StringComparison.OrdinalIgnoreCase))
                ? ": it overrides the colours" : ": a programme runs");
        }

        return said + ": not understood";
    }

    private static List<Reason> Dark(IReadOnlyList<SlotState> slots, bool strobe, Func<SlotState, string> place)
    {
        List<Reason> reasons = [];
        foreach (SlotState slot in slots)
        {
            if (slot is { Chart.Role: SlotRole.Shutter or SlotRole.Intensity, Range.Effect: RangeEffect.Closed or RangeEffect.NoFunction } && !(slot.Chart.Role == SlotRole.Shutter && slot.Range.Effect == RangeEffect.NoFunction))
            {
                reasons.Add(new Reason($"{Named(slot, place(slot))} is {Said(slot)}", slot.Slot, slot.MeaningSince));
            }
        }

        foreach (SlotState slot in slots.Where(slot => slot is { Chart.Role: SlotRole.Intensity, Range.Effect: RangeEffect.Proportional, Value: 0 }))
        {
            reasons.Add(new Reason($"{Named(slot, place(slot))} is 0", slot.Slot, slot.MeaningSince));
        }

        SlotState[] colours = [.. slots.Where(slot => IsColour(slot.Chart?.Role))];
        if (colours.Length > 0 && colours.All(slot => slot.Value == 0))
        {
            Timestamp? since = colours.Any(slot => slot.MeaningSince is not null) ? colours.Max(slot => slot.MeaningSince ?? Timestamp.MinValue) : null;
            reasons.Add(new Reason(strobe ? "the strobe runs but every colour is 0" : $"every colour is 0 ({place(colours[0])} to {place(colours[^1])})", colours[0].Slot, since));
        }

        if (strobe && reasons.Count > 0 && !reasons.Exists(reason => reason.Text.StartsWith("the strobe", StringComparison.Ordinal)))
        {
            reasons[0] = reasons[0] with { Text = "the strobe runs but " + reasons[0].Text };
        }

        return reasons;
    }

    private static string Named(SlotState slot, string place) => string.Create(CultureInfo.InvariantCulture, $"'{slot.Chart?.Function}' slot {slot.Slot} ({place})");

    private static string Said(SlotState slot) => slot.Range is { Meaning.Length: > 0 } range
        ? string.Create(CultureInfo.InvariantCulture, $"{slot.Value} = '{range.Meaning}'")
        : slot.Value.ToString(CultureInfo.InvariantCulture);
}
