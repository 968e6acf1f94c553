using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>At what pace the rows of a CSV come.</summary>
/// <param name="Rate">Rows per second where there is no time column; else 0.</param>
/// <param name="Interval">Seconds between rows at one pace, 0 where they come when something changes.</param>
/// <param name="Digit">Seconds that the last digit of a time stands for.</param>
internal readonly record struct CsvPace(long Rate, decimal Interval, decimal Digit)
{
    /// <summary>Finds the pace.</summary>
    /// <param name="head">The table.</param>
    /// <param name="preamble">The preamble of an oscilloscope; null where there is none.</param>
    /// <param name="time">The column of time and seconds of its unit; null where there is none.</param>
    /// <param name="told">Rows per second as a person says; null for nothing.</param>
    /// <param name="name">Name to print.</param>
    /// <param name="assumptions">Takes what is taken for granted.</param>
    /// <exception cref="InputException">It has no times and says no rate, and neither does a person.</exception>
    public static CsvPace Find(CsvHead head, CsvPreamble? preamble, (int Column, decimal Unit)? time, long? told, string name, List<string> assumptions)
    {
        decimal stated = preamble?.Interval ?? 0;
        foreach (string line in head.Lines.Take(head.FirstRow).Select(line => CsvText.Text(line)))
        {
            bool isInterval = line.Contains("interval", StringComparison.OrdinalIgnoreCase) || line.Contains("increment", StringComparison.OrdinalIgnoreCase) || line.Contains("xincr", StringComparison.OrdinalIgnoreCase);
            if ((isInterval || line.Contains("rate", StringComparison.OrdinalIgnoreCase)) && stated == 0)
            {
                stated = Stated(line, isInterval, head) ?? 0;
            }
        }

        if (time is var (column, unit))
        {
            return OfTimes(head.Numbers(column), unit, stated, assumptions);
        }

        if (stated > 0)
        {
            long rate = (long)Math.Min(Rates.Highest, Math.Round(1 / stated));
            assumptions.Add($"The CSV has no times; its rows are taken as samples at {Rates.Text(rate)}, as a line before them states.");
            return new CsvPace(rate, stated, 0);
        }

        long samples = told ?? throw new InputException(name, new InputProblem(
            "the CSV has no column of times and states no rate", "", "a column named time, or a sampling rate before the rows", "neither", "give --rate"));
        assumptions.Add($"The CSV has no times; its rows are taken as samples at {Rates.Text(samples)} (--rate).");
        return new CsvPace(samples, 1m / samples, 0);
    }

    private static CsvPace OfTimes(List<decimal> times, decimal unit, decimal stated, List<string> assumptions)
    {
        decimal digit = times.Take(1_000).Concat(times.TakeLast(1_000)).Select(LastDigit).DefaultIfEmpty(0).Max() * unit;
        decimal mean = times.Count > 1 ? (times[^1] - times[0]) * unit / (times.Count - 1) : 0;
        int even = times.Zip(times.Skip(1)).Count(pair => Math.Abs(((pair.Second - pair.First) * unit) - mean) <= (mean / 50) + (mean > 4 * digit ? digit : 0));
        bool isEven = times.Count > 2 && mean > 0 && even >= 0.98 * (times.Count - 1);
        if (stated > 0)
        {
            assumptions.Add($"The rows are samples {Nanoseconds(stated)} apart, as a line before them states.");
            return new CsvPace(0, stated, digit);
        }

        assumptions.Add(isEven
            ? $"The rows are samples: they come every {Nanoseconds(mean)}, which is taken as the sampling period."
            : "The rows do not come at one pace: each is taken as a change that lasts until the next.");
        return new CsvPace(0, isEven ? mean : 0, digit);
    }

    private static string Nanoseconds(decimal seconds) => (seconds * 1e9m).ToString("0.###", CultureInfo.InvariantCulture) + " ns";

    // The last digit written, in units of the number: as small as it can be told from a parsed number.
    private static decimal LastDigit(decimal number)
    {
        decimal digit = 1;
        for (int scale = number.Scale; scale > 0; scale--)
        {
            digit /= 10;
        }

        return digit;
    }

    private static decimal? Stated(string line, bool isInterval, CsvHead head)
    {
        if (!isInterval && Rates.TryFind(line, out long rate))
        {
            return 1m / rate;
        }

        foreach (string cell in line.Split([head.Separator == 0 ? ':' : (char)head.Separator, ':', '='], StringSplitOptions.TrimEntries).Skip(1))
        {
            if (CsvText.TryNumber(Encoding.UTF8.GetBytes(cell), head.DecimalComma, out decimal number) && number > 0)
            {
                decimal interval = isInterval ? number * (CsvText.UnitOf(line.Split(cell)[0]) ?? 1) : 1 / number;
                return interval is >= 1e-10m and <= 1 ? interval : null;
            }
        }

        return null;
    }
}
