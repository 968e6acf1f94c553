using System.Globalization;

using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Cli.Text;

/// <summary>A chart as text.</summary>
internal static class ChartText
{
    private static readonly HashSet<int> FigureColumns = [0];

    /// <summary>Writes the charts of a file.</summary>
    public static void Write(TextPage page, IReadOnlyList<Chart> charts, IReadOnlyList<string> notes)
    {
        foreach (Chart chart in charts)
        {
            page.Paragraph($"{chart.Type}: {Figures.Count(chart.Modes.Count, "mode")}.");
            foreach (ChartMode mode in chart.Modes)
            {
                page.Blank();
                page.Heading($"Mode '{mode.Name}': takes {Figures.Count(mode.Footprint, "slot")}");
                page.Table(["slot", "function", "taken as", "values", "meaning", "does"], FigureColumns, mode.Slots.SelectMany(slot => Rows(mode, slot)));
                Unmentioned(page, mode);
                Defaults(page, mode);
            }

            page.Blank();
        }

        foreach (string note in notes)
        {
            page.Paragraph(Figures.Ended("Note: " + note));
        }

        if (charts.SelectMany(chart => chart.Modes).SelectMany(mode => mode.Slots).Any(slot => slot.Bytes > 1 && slot.Exact.Count > 0))
        {
            page.Paragraph("A value as 51400/2 is of the slot and its fine byte together: 256 times the slot, plus the fine byte.");
        }

        page.Paragraph("Slot 1 is the start address. 'taken as' and 'does' are what the program understands of the chart's words; what it does not understand counts as dangerous.");
    }

    private static IEnumerable<string[]> Rows(ChartMode mode, ChartSlot slot)
    {
        IEnumerable<(string Values, string Meaning, RangeEffect Effect)> ranges = slot.Exact.Count == 0
            ? slot.Ranges.Select(range => (string.Create(CultureInfo.InvariantCulture, $"{range.From} to {range.To}"), range.Meaning, range.Effect))
            : slot.Exact.Select(range => (Values(slot, range), range.When is null ? range.Meaning : $"{While(mode, range.When)}: {range.Meaning}", range.Effect));
        bool first = true;
        foreach ((string values, string meaning, RangeEffect effect) in ranges)
        {
            yield return
            [
                first ? slot.Slot.ToString(CultureInfo.InvariantCulture) : "",
                first ? slot.Function : "",
                first ? Role(mode, slot) : "",
                values,
                meaning,
                Effect(effect),
            ];
            first = false;
        }
    }

    /// <summary>The values of a range; whole steps of the high byte as values of the slot, others over all bytes.</summary>
    private static string Values(ChartSlot slot, ExactRange range)
    {
        int shift = 8 * slot.LowSlots.Count;
        long mask = (1L << shift) - 1;
        return (range.From & mask) == 0 && ((range.To + 1) & mask) == 0
            ? string.Create(CultureInfo.InvariantCulture, $"{range.From >> shift} to {range.To >> shift}")
            : string.Create(CultureInfo.InvariantCulture, $"{range.From}/{slot.Bytes} to {range.To}/{slot.Bytes}");
    }

    private static string While(ChartMode mode, SlotCondition when)
    {
        string width = mode.Find(when.Slot) is { Bytes: > 1 } master ? "/" + master.Bytes.ToString(CultureInfo.InvariantCulture) : "";
        return when.From == when.To
            ? string.Create(CultureInfo.InvariantCulture, $"while slot {when.Slot} is {when.From}{width}")
            : string.Create(CultureInfo.InvariantCulture, $"while slot {when.Slot} is {when.From}{width} to {when.To}{width}");
    }

    /// <summary>The values before anybody touches a slot, where they are not 0; low bytes go with their high byte.</summary>
    private static void Defaults(TextPage page, ChartMode mode)
    {
        List<string> said = [.. mode.Slots.Where(slot => slot.Default > 0 && slot.Role != SlotRole.Fine)
            .Select(slot => string.Create(CultureInfo.InvariantCulture, $"slot {slot.Slot} {slot.Default}"))];
        if (said.Count > 0)
        {
            page.Paragraph($"Before anybody touches it: {string.Join(", ", said)}; the others 0 or not said.", indent: 2);
        }
    }

    private static void Unmentioned(TextPage page, ChartMode mode)
    {
        HashSet<int> known = [.. mode.Slots.Select(slot => slot.Slot)];
        List<int> missing = [.. Enumerable.Range(1, mode.Footprint).Where(slot => !known.Contains(slot))];
        if (missing.Count > 0)
        {
            page.Paragraph($"Not mentioned, so unknown: {(missing.Count == 1 ? "slot" : "slots")} {Figures.Ranges(missing, 12)}.", indent: 2);
        }
    }

    private static string Role(ChartMode mode, ChartSlot slot) => slot.Role switch
    {
        SlotRole.Unknown => "unknown",
        SlotRole.None => "nothing",
        SlotRole.UltraViolet => "ultraviolet",
        SlotRole.Fine => mode.Slots.FirstOrDefault(high => high.LowSlots.Contains(slot.Slot)) is { } high
            ? string.Create(CultureInfo.InvariantCulture, $"fine byte of {high.Slot}") : "fine byte",
        SlotRole.OtherEmitter => "another colour",
        SlotRole.Hazard => "can hurt",
        _ => slot.Role.ToString().ToLowerInvariant(),
    };

    private static string Effect(RangeEffect effect) => effect switch
    {
        RangeEffect.Proportional => "more with more",
        RangeEffect.Open => "open",
        RangeEffect.Closed => "closed: dark",
        RangeEffect.Flashing => "flashes",
        RangeEffect.NoFunction => "no function",
        RangeEffect.ProgrammeRuns => "a programme runs",
        RangeEffect.Fixed => "one setting",
        RangeEffect.ControlAction => "reset, lamp or calibration",
        _ => "unknown: dangerous",
    };
}
