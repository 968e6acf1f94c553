using System.Globalization;

using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Cli.Text;

/// <summary>A chart as text.</summary>
internal static class ChartText
{
    private static readonly HashSet<int> FigureColumns = [0];

    /// <summary>Writes a chart.</summary>
    public static void Write(TextPage page, Chart chart)
    {
        page.Paragraph($"{chart.Type}: {Figures.Count(chart.Modes.Count, "mode")}.");
        foreach (ChartMode mode in chart.Modes)
        {
            page.Blank();
            page.Heading($"Mode '{mode.Name}': takes {Figures.Count(mode.Footprint, "slot")}");
            page.Table(["slot", "function", "taken as", "values", "meaning", "does"], FigureColumns, mode.Slots.SelectMany(Rows));
            Unmentioned(page, mode);
        }

        page.Blank();
        page.Paragraph("Slot 1 is the start address. 'taken as' and 'does' are what the program understands of the chart's words; what it does not understand counts as dangerous.");
    }

    private static IEnumerable<string[]> Rows(ChartSlot slot)
    {
        bool first = true;
        foreach (ChartRange range in slot.Ranges)
        {
            yield return
            [
                first ? slot.Slot.ToString(CultureInfo.InvariantCulture) : "",
                first ? slot.Function : "",
                first ? Role(slot.Role) : "",
                string.Create(CultureInfo.InvariantCulture, $"{range.From} to {range.To}"),
                range.Meaning,
                Effect(range.Effect),
            ];
            first = false;
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

    private static string Role(SlotRole role) => role switch
    {
        SlotRole.Unknown => "unknown",
        SlotRole.None => "nothing",
        SlotRole.UltraViolet => "ultraviolet",
        SlotRole.Fine => "fine byte",
        SlotRole.Hazard => "can hurt",
        _ => role.ToString().ToLowerInvariant(),
    };

    private static string Effect(RangeEffect effect) => effect switch
    {
        RangeEffect.Proportional => "more with more",
        RangeEffect.Open => "open",
        RangeEffect.Closed => "closed: dark",
        RangeEffect.Flashing => "flashes",
        RangeEffect.NoFunction => "no function",
        RangeEffect.ProgrammeRuns => "a programme runs",
        RangeEffect.ControlAction => "reset, lamp or calibration",
        _ => "unknown: dangerous",
    };
}
