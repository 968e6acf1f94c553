using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Reads the chart of one fixture type from CSV: <c>mode,slot,function,from,to,meaning</c>, a row for each range of
/// values; <c>role,effect,low,default,cell,when</c> may be there and say what the words do not (docs/charts-and-sheets.md).
/// Never throws on any text; a chart that is not whole is refused, because half a chart predicts wrongly.
/// </summary>
public static class ChartReader
{
    /// <summary>Most rows of one chart.</summary>
    public const int MaxRows = 100_000;

    internal const int MaxName = 100;
    internal const int MaxMeaning = 500;
    internal const int Mode = 0, Slot = 1, Function = 2, From = 3, To = 4, Meaning = 5, Role = 6, Effect = 7, Low = 8, Default = 9, Cell = 10, When = 11;
    internal static readonly string[] Required = ["mode", "slot", "function", "from", "to", "meaning"];
    internal static readonly string[] Optional = ["role", "effect", "low", "default", "cell", "when"];

    /// <summary>Reads a chart.</summary>
    /// <param name="type">Name of the type, as the patch sheet writes it.</param>
    /// <param name="text">The CSV text; separators comma, semicolon or tab.</param>
    /// <exception cref="IOException">The reader itself fails.</exception>
    public static ChartReading Read(string type, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(text);
        ProblemList problems = new();
        List<TableRow> rows = Table.Read(text, Required, Optional, MaxRows, problems);
        Dictionary<string, ModeDraft> modes = new(StringComparer.OrdinalIgnoreCase);
        List<ModeDraft> inOrder = [];
        foreach (TableRow row in rows)
        {
            if (!TryRange(row, problems, out int slot, out RangeDraft range))
            {
                continue;
            }

            string name = CellText.Plain(row[Mode]), function = CellText.Plain(row[Function]);
            if (!modes.TryGetValue(name, out ModeDraft? mode))
            {
                modes[name] = mode = new ModeDraft(name);
                inOrder.Add(mode);
            }

            if (!mode.Slots.TryGetValue(slot, out SlotDraft? draft))
            {
                mode.Slots[slot] = draft = new SlotDraft(slot, function, row.Line);
            }
            else if (!draft.Function.Equals(function, StringComparison.OrdinalIgnoreCase))
            {
                problems.Add(row.Problem("a slot with two names", Function,
                    string.Create(CultureInfo.InvariantCulture, $"{Shown.Cell(draft.Function)} as on line {draft.Line} for slot {slot} of mode {Shown.Quoted(name)}"),
                    "give all ranges of a slot the same function, or correct the slot"));
                continue;
            }

            draft.Take(row, problems);
            draft.Ranges.Add(range);
        }

        List<ChartMode> built = [];
        if (!problems.Any)
        {
            built = [.. inOrder.Select(mode => mode.Build(problems))];
        }

        return problems.Any ? new ChartReading(null, problems.Problems) : new ChartReading(new Chart(type, built), []);
    }

    private static bool TryRange(TableRow row, ProblemList problems, out int slot, out RangeDraft range)
    {
        range = default;
        bool named = row.TryName(Mode, MaxName, mayBeEmpty: false, problems) & row.TryName(Function, MaxName, mayBeEmpty: false, problems) &
            row.TryName(Meaning, MaxMeaning, mayBeEmpty: true, problems) & row.TryName(Cell, MaxName, mayBeEmpty: true, problems);
        if (!(row.TryNumber(Slot, 1, 512, "slot 1 is the start address", problems, out slot) & WideValue.TryRead(row, From, "give the first value of the range", problems, out WideValue from) &
            WideValue.TryRead(row, To, "give the last value of the range", problems, out WideValue to)) || !named)
        {
            return false;
        }

        if (from.Bytes != to.Bytes)
        {
            problems.Add(row.Problem("a range of two widths", To, $"a value of {Shown.Number(from.Bytes)} bytes, as in from", "write both with the same number after the stroke"));
            return false;
        }

        if (from.Value > to.Value)
        {
            problems.Add(row.Problem("a range that ends before it starts", To, from.Value.ToString(CultureInfo.InvariantCulture) + " or more", "swap from and to"));
            return false;
        }

        range = new RangeDraft(from, to, CellText.Plain(row[Meaning]), row);
        return true;
    }
}
