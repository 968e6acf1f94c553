using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Reads the chart of one fixture type from CSV: <c>mode,slot,function,from,to,meaning</c>, a row for each range of
/// values. Never throws on any text; a chart that is not whole is refused, because half a chart predicts wrongly.
/// </summary>
public static class ChartReader
{
    /// <summary>Most rows of one chart.</summary>
    public const int MaxRows = 100_000;

    private const int MaxName = 100;
    private const int MaxMeaning = 500;
    private const int Mode = 0, Slot = 1, Function = 2, From = 3, To = 4, Meaning = 5;
    private static readonly string[] Columns = ["mode", "slot", "function", "from", "to", "meaning"];

    /// <summary>Reads a chart.</summary>
    /// <param name="type">Name of the type, as the patch sheet writes it.</param>
    /// <param name="text">The CSV text; separators comma, semicolon or tab.</param>
    /// <exception cref="IOException">The reader itself fails.</exception>
    public static ChartReading Read(string type, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(text);
        ProblemList problems = new();
        List<TableRow> rows = Table.Read(text, Columns, [], MaxRows, problems);
        Dictionary<string, SortedDictionary<int, SlotDraft>> modes = new(StringComparer.OrdinalIgnoreCase);
        List<string> names = [];
        foreach (TableRow row in rows)
        {
            if (!TryRange(row, problems, out int slot, out RangeDraft range))
            {
                continue;
            }

            if (!modes.TryGetValue(row[Mode], out SortedDictionary<int, SlotDraft>? slots))
            {
                modes[row[Mode]] = slots = [];
                names.Add(row[Mode]);
            }

            if (!slots.TryGetValue(slot, out SlotDraft? draft))
            {
                slots[slot] = draft = new SlotDraft(row[Function], row.Line);
            }
            else if (!draft.Function.Equals(row[Function], StringComparison.OrdinalIgnoreCase))
            {
                problems.Add(row.Problem("a slot with two names", Function,
                    string.Create(CultureInfo.InvariantCulture, $"{Shown.Cell(draft.Function)} as on line {draft.Line} for slot {slot} of mode {Shown.Quoted(row[Mode])}"),
                    "give all ranges of a slot the same function, or correct the slot"));
                continue;
            }

            draft.Ranges.Add(range);
        }

        if (!problems.Any)
        {
            foreach (string name in names)
            {
                foreach ((int slot, SlotDraft draft) in modes[name])
                {
                    CheckCover(name, slot, draft, problems);
                }
            }
        }

        return problems.Any ? new ChartReading(null, problems.Problems) : new ChartReading(new Chart(type, [.. names.Select(name => Built(name, modes[name]))]), []);
    }

    private static bool TryRange(TableRow row, ProblemList problems, out int slot, out RangeDraft range)
    {
        range = default;
        bool named = row.TryName(Mode, MaxName, mayBeEmpty: false, problems) & row.TryName(Function, MaxName, mayBeEmpty: false, problems) &
            row.TryName(Meaning, MaxMeaning, mayBeEmpty: true, problems);
        if (!(row.TryNumber(Slot, 1, 512, "slot 1 is the start address", problems, out slot) & row.TryNumber(From, 0, 255, "give the first value of the range", problems, out int from) &
            row.TryNumber(To, 0, 255, "give the last value of the range", problems, out int to)) || !named)
        {
            return false;
        }

        if (from > to)
        {
            problems.Add(row.Problem("a range that ends before it starts", To, from + " or more", "swap from and to"));
            return false;
        }

        range = new RangeDraft(from, to, row[Meaning], row.Line);
        return true;
    }

    /// <summary>The ranges of a slot must cover 0 to 255 once.</summary>
    private static void CheckCover(string mode, int slot, SlotDraft draft, ProblemList problems)
    {
        draft.Ranges.Sort((a, b) => a.From != b.From ? a.From.CompareTo(b.From) : a.Line.CompareTo(b.Line));
        string where = string.Create(CultureInfo.InvariantCulture, $"slot {slot} of mode {Shown.Quoted(mode)}");
        int next = 0, line = draft.Line;
        foreach (RangeDraft range in draft.Ranges)
        {
            if (range.From < next)
            {
                problems.Add(new TableProblem("overlapping ranges in " + where, range.Line, "from", next > 255 ? "no further range" : next + " or more",
                    string.Create(CultureInfo.InvariantCulture, $"{range.From} to {range.To} (values {range.From} to {Math.Min(range.To, next - 1)} are taken by line {line})"),
                    "let the ranges cover 0 to 255 once"));
                return;
            }

            if (range.From > next)
            {
                problems.Add(Gap(where, range.Line, next, range.From - 1));
                return;
            }

            next = range.To + 1;
            line = range.Line;
        }

        if (next <= 255)
        {
            problems.Add(Gap(where, line, next, 255));
        }
    }

    private static TableProblem Gap(string where, int line, int from, int to) => new("a gap in " + where, line, "from", "ranges that cover 0 to 255",
        string.Create(CultureInfo.InvariantCulture, $"nothing for values {from} to {to}"), "add a row for them; write 'unknown' as its meaning when the chart does not say");

    private static ChartMode Built(string name, SortedDictionary<int, SlotDraft> slots)
    {
        List<ChartSlot> built = [];
        foreach ((int number, SlotDraft draft) in slots)
        {
            SlotRole role = RoleInference.RoleOf(draft.Function, draft.Ranges.Select(range => range.Meaning));
            List<ChartRange> ranges = [.. draft.Ranges.Select(range =>
                new ChartRange(range.From, range.To, range.Meaning, EffectInference.EffectOf(role, draft.Function, range.Meaning)))];
            built.Add(new ChartSlot(number, draft.Function, role, ranges));
        }

        return new ChartMode(name, built, built[^1].Slot);
    }

    private readonly record struct RangeDraft(int From, int To, string Meaning, int Line);

    private sealed record SlotDraft(string Function, int Line)
    {
        public List<RangeDraft> Ranges { get; } = [];
    }
}
