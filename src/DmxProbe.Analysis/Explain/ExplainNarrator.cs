using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>Puts an explanation into words: the verdict first.</summary>
public static class ExplainNarrator
{
    /// <summary>The verdict, one sentence.</summary>
    /// <param name="explanation">The explanation.</param>
    /// <param name="clock">How a moment is written.</param>
    public static string Sentence(Explanation explanation, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(explanation);
        ArgumentNullException.ThrowIfNull(clock);
        string unit = explanation.Unit.Unit;
        SenderView[] inCharge = [.. explanation.InCharge];
        if (inCharge.Length == 0)
        {
            return explanation.Universe is null
                ? $"Nothing sends universe {explanation.Unit.Universe.ToString(CultureInfo.InvariantCulture)} of the sheet, on which {unit} is: look at the controller, the network and the numbering first."
                : explanation.Senders.Count == 0
                    ? $"{explanation.Universe.Value.Label} carries no levels up to that time: nothing tells {unit} what to do."
                    : $"Nobody sends {explanation.Universe.Value.Label} at that time; {Who(explanation.Senders[0])} was heard last at {clock(explanation.Senders[0].Last)}: {unit} does what it is set to do on loss of data.";
        }

        if (explanation.PutOut.Count > 0)
        {
            string[] put = [.. explanation.PutOut.Select(view => Verdict(view.Of, clock)).Distinct(StringComparer.Ordinal)];
            bool hasAddressPriority = explanation.Winners.Any(answer => answer.Contenders.Any(each => each.AddressPriority >= 0));
            return put.Length == 1
                ? $"{unit} {put[0]}."
                : $"{unit} depends on the receiver: {string.Join("; ", explanation.PutOut.Select(view => $"{SlotNarrator.Receiver(view.Condition, hasAddressPriority)}, it {Verdict(view.Of, clock)}"))}.";
        }

        string[] verdicts = [.. inCharge.Select(view => Verdict(view, clock)).Distinct(StringComparer.Ordinal)];
        if (verdicts.Length == 1)
        {
            return $"{unit} {verdicts[0]}.";
        }

        IEnumerable<string> each = inCharge.Take(4).Select(view => $"by {Who(view)} it {Verdict(view, clock)}");
        return $"{inCharge.Length.ToString(CultureInfo.InvariantCulture)} senders decide {unit} together and do not agree: {string.Join("; ", each)}.";
    }

    /// <summary>A light in words: <c>78 % red 100 %, green 20 %</c>.</summary>
    public static string Light(LightOutput light)
    {
        float top = Math.Max(light.Red, Math.Max(light.Green, light.Blue));
        string Percent(float share) => (share * 100).ToString("0", CultureInfo.InvariantCulture) + " %";
        return light.Red.Equals(light.Green) && light.Green.Equals(light.Blue)
            ? "white " + Percent(top)
            : $"red {Percent(light.Red)}, green {Percent(light.Green)}, blue {Percent(light.Blue)}";
    }

    private static string Who(SenderView view) =>
        view.Sender.Name.Length > 0 ? $"'{view.Sender.Name}'" : view.Sender.Address.Length > 0 ? view.Sender.Address : "whoever drives it";

    private static string Verdict(SenderView view, Func<Timestamp, string> clock)
    {
        string reasons = string.Join("; and ", view.Reasons.Take(3).Select(reason => reason.Text + Since(reason, clock)));
        return view.State switch
        {
            UnitState.Dark => "is dark because " + reasons,
            UnitState.NoLight => "gives no light by its chart, and may be running: " + reasons,
            UnitState.Flashing => "flashes because " + reasons,
            UnitState.NotPredictable => "is not predictable while " + reasons,
            UnitState.NotSent => "is not reached: " + reasons,
            _ => "should be lit: " + (Emitters(view) is { Length: > 0 } emitters ? emitters : Light(view.Light)),
        };
    }

    // Where white, amber or other emitters shine too, red, green and blue of the mixture would name levels that nobody set.
    private static string Emitters(SenderView view)
    {
        SlotState[] lit = [.. view.Slots.Where(slot => slot.Chart is { Cell: "" } chart && IsEmitter(chart.Role) && Share(slot) > 0)];
        SlotState[] dimmers = [.. view.Slots.Where(slot => slot.Chart is { Cell: "", Role: SlotRole.Intensity })];
        if (dimmers.Length > 1 || !Array.Exists(lit, slot => slot.Chart!.Role is not (SlotRole.Red or SlotRole.Green or SlotRole.Blue)))
        {
            return "";
        }

        string Percent(SlotState slot) => (Share(slot) * 100).ToString("0", CultureInfo.InvariantCulture) + " %";
        string colours = string.Join(", ", lit.Select(slot => Plain(slot.Chart!.Function) + " " + Percent(slot)));
        return dimmers is [SlotState dimmer] ? $"{colours}, and dimmed to {Percent(dimmer)}" : colours;
    }

    // How much of the slot's function its value is, 0 to 1, by the ranges of the chart as the light model reads them: neighbours
    // that are both proportional are one ramp. What the chart does not explain counts by its value.
    private static double Share(SlotState slot)
    {
        if (slot.Value < 0 || slot.Range is not { } range)
        {
            return Math.Max(slot.Value, 0) / (double)byte.MaxValue;
        }

        if (range.Effect != RangeEffect.Proportional)
        {
            return range.Effect == RangeEffect.Open ? 1 : 0;
        }

        IReadOnlyList<ChartRange> ranges = slot.Chart!.Ranges;
        int at = ranges.ToList().IndexOf(range);
        int first = at;
        int last = at;
        while (first > 0 && ranges[first - 1].Effect == RangeEffect.Proportional && ranges[first - 1].To == ranges[first].From - 1)
        {
            first--;
        }

        while (at >= 0 && last + 1 < ranges.Count && ranges[last + 1].Effect == RangeEffect.Proportional && ranges[last + 1].From == ranges[last].To + 1)
        {
            last++;
        }

        (int from, int to) = at < 0 ? (range.From, range.To) : (ranges[first].From, ranges[last].To);
        return to > from ? (slot.Value - from) / (double)(to - from) : slot.Value / (double)byte.MaxValue;
    }

    // 'Red' inside a sentence is red; 'UV' stays.
    private static string Plain(string function) =>
        function.Length > 1 && char.IsLower(function[1]) ? function.ToLowerInvariant() : function;

    private static bool IsEmitter(SlotRole role) =>
        role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet or SlotRole.OtherEmitter;

    private static string Since(Reason reason, Func<Timestamp, string> clock) =>
        reason.Since is Timestamp since ? ", since " + clock(since) : reason.Slot > 0 ? ", as long as the sender was heard" : "";
}
