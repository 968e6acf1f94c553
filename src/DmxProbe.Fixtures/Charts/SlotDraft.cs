using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>The rows of one slot of a chart as CSV.</summary>
internal sealed class SlotDraft(int slot, string function, int line)
{
    private static readonly int[] Told = [ChartReader.Role, ChartReader.Low, ChartReader.Default, ChartReader.Cell];
    private readonly string[] _told = new string[ChartReader.When + 1];

    public int Slot => slot;

    public string Function => function;

    public int Line => line;

    public List<RangeDraft> Ranges { get; } = [];

    /// <summary>The slots of the low bytes as the chart tells them; null when it does not.</summary>
    public IReadOnlyList<int>? Low { get; private set; }

    /// <summary>What is said of the slot as a whole: in one row or in all, but not two things.</summary>
    public void Take(TableRow row, ProblemList problems)
    {
        foreach (int column in Told)
        {
            string said = row[column];
            if (said.Length > 0 && _told[column] is { Length: > 0 } before && before != said)
            {
                problems.Add(row.Problem("two things said of one slot", column, $"{Shown.Quoted(before)} as in a row above, or nothing", "say it in one row of the slot"));
            }

            _told[column] = said.Length > 0 ? said : _told[column] ?? "";
        }
    }

    /// <summary>The slot with its role, but without what depends on other slots.</summary>
    public ChartSlot Start(ProblemList problems)
    {
        TableRow row = Ranges[0].Row;
        SlotRole role = RoleInference.RoleOf(function, Ranges.Select(range => range.Meaning));
        if (_told[ChartReader.Role] is { Length: > 0 } said && !TryName(said, out role))
        {
            problems.Add(Wrong(row, "not a role", ChartReader.Role, said, Names<SlotRole>(), "write one of them, or leave it empty to have the words read"));
        }

        int? initial = null;
        if (_told[ChartReader.Default] is { Length: > 0 } number)
        {
            initial = byte.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out byte octet) ? octet : null;
            if (initial is null)
            {
                problems.Add(Wrong(row, "not a value", ChartReader.Default, number, "0 to 255", "give the value before anybody touches the slot"));
            }
        }

        if (_told[ChartReader.Low] is { Length: > 0 } list)
        {
            List<int> low = [];
            foreach (string part in list.Split('|', StringSplitOptions.TrimEntries))
            {
                if (!int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out int other) || other is < 1 or > 512 || other == slot || low.Contains(other) || low.Count == 3)
                {
                    problems.Add(Wrong(row, "not the slots of low bytes", ChartReader.Low, list, "up to three other slots as in 2|3, the more significant first", "correct the list"));
                    break;
                }

                low.Add(other);
            }

            Low = low;
        }

        return new ChartSlot(slot, function, role, []) { Default = initial, Cell = CellText.Plain(_told[ChartReader.Cell] ?? "") };
    }

    /// <summary>The ranges in full width.</summary>
    /// <param name="mode">Name of the mode.</param>
    /// <param name="chart">The slot with its low bytes.</param>
    /// <param name="bytesOf">Width of another slot of the mode; 0 when it is not there.</param>
    /// <param name="problems">Receives what is wrong.</param>
    public List<ExactRange> Exact(string mode, ChartSlot chart, Func<int, int> bytesOf, ProblemList problems)
    {
        List<(ExactRange Range, int Line)> made = [];
        foreach (RangeDraft draft in Ranges)
        {
            if (draft.From.Bytes > 1 && draft.From.Bytes != chart.Bytes)
            {
                problems.Add(draft.Row.Problem("a value of another width", ChartReader.From, string.Create(CultureInfo.InvariantCulture, $"at most 255, or a value over {chart.Bytes} bytes as in 0/{chart.Bytes}"),
                    "name the slots of the low bytes in the column low"));
                return [];
            }

            RangeEffect effect = EffectInference.EffectOf(chart.Role, function, draft.Meaning);
            string said = draft.Row[ChartReader.Effect];
            if (said.Length > 0 && !TryName(said, out effect))
            {
                problems.Add(draft.Row.Problem("not an effect", ChartReader.Effect, Names<RangeEffect>(), "write one of them, or leave it empty to have the words read"));
                return [];
            }

            if (!TryWhen(draft.Row, bytesOf, problems, out SlotCondition? when))
            {
                return [];
            }

            made.Add((new ExactRange(draft.From.First(chart.Bytes), draft.To.Last(chart.Bytes), draft.Meaning, effect) { When = when }, draft.Line));
        }

        List<ExactRange> ranges = [];
        foreach (IGrouping<SlotCondition?, (ExactRange Range, int Line)> layer in made.GroupBy(range => range.Range.When))
        {
            List<(ExactRange Range, int Line)> rows = [.. layer.OrderBy(row => row.Range.From).ThenBy(row => row.Line)];
            CheckCover(mode, rows, (1L << (8 * chart.Bytes)) - 1, problems);
            ranges.AddRange(rows.Select(row => row.Range));
        }

        return ranges;
    }

    private bool TryWhen(TableRow row, Func<int, int> bytesOf, ProblemList problems, out SlotCondition? when)
    {
        when = null;
        string text = row[ChartReader.When];
        if (text.Length == 0)
        {
            return true;
        }

        int colon = text.IndexOf(':', StringComparison.Ordinal), dash = text.IndexOf('-', StringComparison.Ordinal);
        if (colon > 0 && dash > colon && int.TryParse(text.AsSpan(0, colon), NumberStyles.None, CultureInfo.InvariantCulture, out int other) && other != slot
            && WideValue.TryParse(text.AsSpan(colon + 1, dash - colon - 1), out WideValue from) && WideValue.TryParse(text.AsSpan(dash + 1), out WideValue to))
        {
            int bytes = bytesOf(other);
            if (bytes > 0 && (from.Bytes == 1 || from.Bytes == bytes) && (to.Bytes == 1 || to.Bytes == bytes) && from.First(bytes) <= to.Last(bytes))
            {
                when = new SlotCondition(other, from.First(bytes), to.Last(bytes));
                return true;
            }
        }

        problems.Add(row.Problem("not a condition", ChartReader.When, "slot:from-to as in 6:0-147, with another slot of the mode", "leave it empty for a range that always holds"));
        return false;
    }

    /// <summary>The ranges of a slot must cover all values once; those under a condition may leave some out.</summary>
    private void CheckCover(string mode, List<(ExactRange Range, int Line)> rows, long top, ProblemList problems)
    {
        string where = string.Create(CultureInfo.InvariantCulture, $"slot {slot} of mode {Shown.Quoted(mode)}");
        bool mayMiss = rows[0].Range.When is not null;
        long next = 0;
        int before = line;
        foreach ((ExactRange range, int at) in rows)
        {
            if (range.From < next)
            {
                problems.Add(new TableProblem("overlapping ranges in " + where, at, "from", next > top ? "no further range" : string.Create(CultureInfo.InvariantCulture, $"{next} or more"),
                    string.Create(CultureInfo.InvariantCulture, $"{range.From} to {range.To} (values {range.From} to {Math.Min(range.To, next - 1)} are taken by line {before})"),
                    string.Create(CultureInfo.InvariantCulture, $"let the ranges cover 0 to {top} once")));
                return;
            }

            if (range.From > next && !mayMiss)
            {
                problems.Add(Gap(where, at, next, range.From - 1, top));
                return;
            }

            next = range.To + 1;
            before = at;
        }

        if (next <= top && !mayMiss)
        {
            problems.Add(Gap(where, before, next, top, top));
        }
    }

    private static TableProblem Gap(string where, int line, long from, long to, long top) => new("a gap in " + where, line, "from",
        string.Create(CultureInfo.InvariantCulture, $"ranges that cover 0 to {top}"),
        string.Create(CultureInfo.InvariantCulture, $"nothing for values {from} to {to}"), "add a row for them; write 'unknown' as its meaning when the chart does not say");

    private static TableProblem Wrong(TableRow row, string what, int column, string found, string expected, string advice) =>
        row.Problem(what, column, expected, advice) with { Found = Shown.Cell(found) };

    private static bool TryName<T>(string text, out T value)
        where T : struct, Enum => Enum.TryParse(text, ignoreCase: true, out value) && Enum.IsDefined(value) && !char.IsAsciiDigit(text[0]) && text[0] is not ('+' or '-');

    private static string Names<T>()
        where T : struct, Enum => string.Join(", ", Enum.GetNames<T>().Select(name => char.ToLowerInvariant(name[0]) + name[1..]));
}
