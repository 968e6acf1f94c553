using System.Globalization;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Writes a chart as CSV that <see cref="ChartReader"/> reads back to the same chart. Columns beyond the six that a
/// person types are there only when a cell of them says what the words do not.
/// </summary>
public static class ChartWriter
{
    /// <summary>Writes a chart.</summary>
    /// <param name="output">Where to; left open.</param>
    /// <param name="chart">The chart.</param>
    /// <exception cref="IOException">The writer itself fails.</exception>
    public static void Write(TextWriter output, Chart chart)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(chart);
        List<string[]> rows = [.. chart.Modes.SelectMany(Rows)];
        string[] names = [.. ChartReader.Required, .. ChartReader.Optional];
        int[] columns = [.. Enumerable.Range(0, names.Length).Where(column => column < ChartReader.Required.Length || rows.Exists(row => row[column].Length > 0))];
        output.Write(string.Join(',', columns.Select(column => names[column])) + "\n");
        foreach (string[] row in rows)
        {
            output.Write(string.Join(',', columns.Select(column => row[column])) + "\n");
        }
    }

    private static IEnumerable<string[]> Rows(ChartMode mode)
    {
        // What the reader would make of the names alone; only what differs is written.
        Dictionary<int, IReadOnlyList<int>> byName = FineSlots.ByName([.. mode.Slots.Select(slot => slot with { LowSlots = [] })]);
        bool Says(Dictionary<int, IReadOnlyList<int>> names, ChartSlot slot) => names.TryGetValue(slot.Slot, out IReadOnlyList<int>? low) && low.SequenceEqual(slot.LowSlots);
        Dictionary<int, IReadOnlyList<int>> lowByName = FineSlots.ByName([.. mode.Slots.Select(slot => slot.LowSlots.Count > 0 && !Says(byName, slot) ? slot : slot with { LowSlots = [] })]);
        foreach (ChartSlot slot in mode.Slots)
        {
            bool first = true;
            IReadOnlyList<ExactRange> ranges = slot.Exact.Count > 0 ? slot.Exact : [.. slot.Ranges.Select(range => new ExactRange(range.From, range.To, range.Meaning, range.Effect))];
            SlotRole read = RoleInference.RoleOf(slot.Function, ranges.Select(range => range.Meaning));
            foreach (ExactRange range in ranges)
            {
                yield return
                [
                    CellText.Cell(mode.Name),
                    Number(slot.Slot),
                    CellText.Cell(slot.Function),
                    Bound(slot, range, range.From),
                    Bound(slot, range, range.To),
                    CellText.Cell(range.Meaning),
                    first && read != slot.Role ? Name(slot.Role) : "",
                    EffectInference.EffectOf(slot.Role, slot.Function, range.Meaning) != range.Effect ? Name(range.Effect) : "",
                    first && slot.LowSlots.Count > 0 && !Says(lowByName, slot) ? string.Join('|', slot.LowSlots.Select(Number)) : "",
                    first && slot.Default is int initial ? Number(initial) : "",
                    first ? CellText.Cell(slot.Cell) : "",
                    range.When is null ? "" : Condition(mode, range.When),
                ];
                first = false;
            }
        }
    }

    private static string Bound(ChartSlot slot, ExactRange range, long value)
    {
        if (slot.Exact.Count == 0)
        {
            return Number((int)value);
        }

        // Whole steps of the high byte are written as a person does.
        int shift = 8 * slot.LowSlots.Count;
        long mask = (1L << shift) - 1;
        return (range.From & mask) == 0 && ((range.To + 1) & mask) == 0 ? Number((int)(value >> shift)) : new WideValue(value, slot.Bytes).ToString();
    }

    private static string Condition(ChartMode mode, SlotCondition when)
    {
        int bytes = mode.Find(when.Slot)?.Bytes ?? 1;
        return string.Create(CultureInfo.InvariantCulture, $"{when.Slot}:{new WideValue(when.From, bytes)}-{new WideValue(when.To, bytes)}");
    }

    private static string Name<T>(T value)
        where T : struct, Enum => value.ToString() is var name ? char.ToLowerInvariant(name[0]) + name[1..] : "";

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
