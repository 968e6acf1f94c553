using System.Globalization;
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
    public static Explanation Explain(PatchUnit unit, UniverseId? universe, SlotTraceAnalyzer trace, Func<int, SenderSummary> describe, IReadOnlyList<ObeyedSpan> obeyed, Timestamp at)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(describe);
        ArgumentNullException.ThrowIfNull(obeyed);
        ObeyedSpan? span = obeyed.LastOrDefault(known => known.From <= at && at <= known.To);
        LightModel model = new(trace.Mode);
        List<SenderView> views = [];
        for (int stream = 0; stream < trace.StreamCount; stream++)
        {
            if (trace.Snapshot(stream) is var (its, sender, first, last, slots) && its == universe)
            {
                bool present = at - last <= ProtocolTimes.LossOf(its.Protocol);
                bool inCharge = present && (span is null || span.Senders.Contains(sender));
                (UnitState state, LightOutput light, List<Reason> reasons) = Judge(model, unit, slots);
                views.Add(new SenderView(describe(sender), inCharge, inCharge ? span?.Priority ?? -1 : -1, first, last, state, light, reasons, slots));
            }
        }

        return new Explanation(unit, trace.Mode, universe, at, [.. views.OrderByDescending(view => view.InCharge).ThenByDescending(view => view.Last)]);
    }

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
