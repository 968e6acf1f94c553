using System.Globalization;

using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>
/// Several inputs that each hold one sender, such as the settings of one controller: a row for each quantity, a column for each
/// input. The median, its range, and what it is outside of.
/// </summary>
internal static class SideBySideText
{
    private const int MostColumns = 8;

    /// <summary>Writes the table; nothing where an input has no sender or several.</summary>
    public static void Write(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        List<List<TimingMeasurement>> measured =
            [.. inputs.Select(input => input.Figures.Where(figure => figure.Verdict != LimitVerdict.NotMeasurable && figure.Median is not null).ToList())];
        bool isOneEach = measured.TrueForAll(figures => figures.Select(figure => figure.Subject).Distinct().Count() == 1);
        if (inputs.Count is < 2 or > MostColumns || !isOneEach)
        {
            return;
        }

        page.Blank();
        page.Heading("Side by side: median (least to most)");
        List<string[]> rows = [];
        foreach ((string quantity, string unit, int code) in measured.SelectMany(figures => figures).Select(figure => (figure.Quantity, figure.Unit, figure.StartCode)).Distinct())
        {
            string startCode = code == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" (START code 0x{code:X2})");
            rows.Add(
            [
                $"{TimingText.QuantityWords(quantity)}{(unit == "slots" ? "" : ", " + unit)}{startCode}",
                .. measured.Select(figures => Cell(figures.Find(figure => figure.Quantity == quantity && figure.Unit == unit && figure.StartCode == code))),
            ]);
        }

        page.Table(["quantity", .. inputs.Select((_, place) => TimingText.Letter(place))], new HashSet<int>(), rows);
    }

    private static string Cell(TimingMeasurement? figure)
    {
        if (figure is null)
        {
            return Figures.None;
        }

        string range = figure.Min == figure.Max ? "" : $" ({Number(figure.Min, figure.Unit)} to {Number(figure.Max, figure.Unit)})";
        string verdict = figure.Verdict switch
        {
            LimitVerdict.OutsideReceive => " outside receive",
            LimitVerdict.OutsideTransmit => " outside transmit",
            LimitVerdict.Undecided => " undecided",
            _ => "",
        };
        return Number(figure.Median, figure.Unit) + range + verdict;
    }

    private static string Number(double? value, string unit) =>
        unit == "slots" && value is double slots ? slots.ToString("0", CultureInfo.InvariantCulture) : Figures.Number(value);
}
