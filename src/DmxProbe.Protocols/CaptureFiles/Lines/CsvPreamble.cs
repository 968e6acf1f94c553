using System.Globalization;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Two lines that an oscilloscope writes before the rows: names with <c>Increment</c> among them, and under it the seconds from row to row.</summary>
/// <param name="Interval">Seconds from row to row.</param>
/// <param name="Names">The names.</param>
/// <param name="Under">What stands under them.</param>
internal sealed record CsvPreamble(decimal Interval, string[] Names, string[] Under)
{
    private const string Increment = "increment";
    private const string Sequence = "sequence";
    private const decimal ShortestInterval = 1e-10m;

    /// <summary>The preamble; null where there is none.</summary>
    public static CsvPreamble? Find(CsvHead head)
    {
        for (int at = 0; at + 1 < head.FirstRow; at++)
        {
            string[] names = head.Cells(head.Lines[at]);
            string[] under = head.Cells(head.Lines[at + 1]);
            int place = Array.FindIndex(names, name => name.Equals(Increment, StringComparison.OrdinalIgnoreCase));
            if (place >= 0 && place < under.Length
                && decimal.TryParse(under[place], NumberStyles.Float, CultureInfo.InvariantCulture, out decimal interval)
                && interval is >= ShortestInterval and <= 1)
            {
                return new CsvPreamble(interval, names, under);
            }
        }

        return null;
    }

    /// <summary>Whether a column only numbers the rows.</summary>
    public bool Counts(int column) => column < Under.Length && Under[column].Equals(Sequence, StringComparison.OrdinalIgnoreCase);
}
