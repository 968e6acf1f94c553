using System.Globalization;

using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>The figures that <c>timing</c> tells, each with where it lies between its limits; the chosen one with its spread.</summary>
internal static class TimingView
{
    private const int DetailRows = 8;
    private const int Wide = 100;
    private const int FixedColumns = 61;
    private const int WidestColumn = 3;
    private const int TallestColumns = 20;
    private const int UnitColumns = 5;
    private const string From = " from ";

    /// <summary>The answer about timing, one sentence.</summary>
    public static string Sentence(RigPicture picture)
    {
        int outside = Measured(picture).Count(TimingText.IsOutside);
        int undecided = Measured(picture).Count(figure => figure.Verdict == LimitVerdict.Undecided);
        return Measured(picture).Count == 0 ? "Nothing to measure yet."
            : outside > 0 ? $"{Figures.Count(outside, "figure is", "figures are")} outside the limits: {Told(Ranked(picture)[0])}."
            : undecided > 0 ? $"No figure is outside its limits; {Figures.Count(undecided, "is", "are")} undecided."
            : "No figure is outside its limits.";
    }

    /// <summary>What can be measured on this input: universes with figures outside first, and of each those first.</summary>
    public static IReadOnlyList<TimingMeasurement> Ranked(RigPicture picture) =>
        [.. Measured(picture).GroupBy(figure => Split(figure).Universe).OrderBy(universe => universe.Min(Rank)).SelectMany(universe => universe.OrderBy(Rank))];

    private static int Rank(TimingMeasurement figure) => TimingText.IsOutside(figure) ? 0 : figure.Verdict == LimitVerdict.Undecided ? 1 : 2;

    // "sACN 2 from 'old laptop' (10.20.0.77)": the universe, and who sends it as short as it can be told.
    private static (string Universe, string Sender) Split(TimingMeasurement figure)
    {
        int from = figure.Subject.IndexOf(From, StringComparison.Ordinal);
        if (from >= 0)
        {
            string sender = figure.Subject[(from + From.Length)..];
            int end = sender.LastIndexOf("' (", StringComparison.Ordinal);
            return (figure.Subject[..from], end > 0 && sender[0] == '\'' ? sender[1..end] + sender[(end + 1)..] : sender);
        }

        int name = figure.Subject.IndexOf('\'', StringComparison.Ordinal);
        return name > 1 ? (figure.Subject[..(name - 1)], figure.Subject[(name + 1)..].TrimEnd('\'')) : (figure.Subject, "");
    }

    /// <summary>The rows of the view; keeps <see cref="ScreenState.Figure"/> within them.</summary>
    public static IReadOnlyList<ScreenRow> Rows(RigPicture picture, ScreenState state, int width, int room)
    {
        IReadOnlyList<TimingMeasurement> figures = Ranked(picture);
        string[] silent = [.. picture.Timing.Where(figure => figure.Verdict == LimitVerdict.NotMeasurable).Select(figure => TimingText.QuantityWords(figure.Quantity)).Distinct()];
        List<ScreenRow> foot = silent.Length == 0 ? [] : [.. Wrapped.Rows("not measurable on this input: " + string.Join(", ", silent), width, " ")];
        if (figures.Count == 0)
        {
            return [new ScreenRow(" No sender of levels is heard."), .. foot];
        }

        state.Figure = Math.Clamp(state.Figure, 0, figures.Count - 1);
        int detail = room > DetailRows + foot.Count + 5 ? DetailRows : 0;
        int listed = Math.Max(1, room - detail - foot.Count - 1);
        List<(string? Universe, int Figure)> lines = [];
        for (int index = 0; index < figures.Count; index++)
        {
            string universe = Split(figures[index]).Universe;
            if (index == 0 || universe != Split(figures[index - 1]).Universe)
            {
                lines.Add((universe, -1));
            }

            lines.Add((null, index));
        }

        int first = Math.Clamp(lines.FindIndex(line => line.Figure == state.Figure) - (listed / 2), 0, Math.Max(0, lines.Count - listed));
        int subject = width < Wide ? 11 : 30;
        int bar = Math.Max(8, width - subject - FixedColumns);
        List<ScreenRow> rows =
        [
            new(RowTexts.Of($"  {Fitted.To("sent by", subject)} {Fitted.To("quantity", 16)} {"least",7} {"most",7} {"margin",7} {Fitted.To("unit", UnitColumns)} {Fitted.To("limits", bar)}  verdict")),
        ];
        foreach ((string? universe, int index) in lines.Skip(first).Take(listed))
        {
            if (universe is not null)
            {
                rows.Add(new ScreenRow(Wrapped.Cut(" " + Printable.Text(universe), width)));
                continue;
            }

            TimingMeasurement figure = figures[index];
            bool chosen = index == state.Figure;
            rows.Add(new ScreenRow(
                RowTexts.Cut(width, $"{(chosen ? '>' : ' ')} {Fitted.To(Printable.Text(Split(figure).Sender), subject)} {Fitted.To(TimingText.QuantityWords(figure.Quantity), 16)} {Figures.Number(figure.Min),7} {Figures.Number(figure.Max),7} {TimingText.Margin(figure),7} {Fitted.To(figure.Unit, UnitColumns)} {Bar(figure, bar)}  {Verdict(figure)}"),
                chosen ? Tint.Chosen : TimingText.IsOutside(figure) ? Tint.Fault : figure.Verdict == LimitVerdict.Undecided ? Tint.Warning : Tint.Plain)
            {
                Choice = index + 1,
            });
        }

        while (rows.Count < room - detail - foot.Count)
        {
            rows.Add(new ScreenRow(""));
        }

        if (detail > 0)
        {
            rows.AddRange(Detail(figures[state.Figure], width).Take(detail));
            while (rows.Count < room - foot.Count)
            {
                rows.Add(new ScreenRow(""));
            }
        }

        return [.. rows, .. foot];
    }

    private static List<TimingMeasurement> Measured(RigPicture picture) =>
        [.. picture.Timing.Where(figure => figure.Verdict != LimitVerdict.NotMeasurable)];

    private static string Name(TimingMeasurement figure) => $"{Printable.Text(figure.Subject)}, {TimingText.QuantityWords(figure.Quantity)}";

    private static string Told(TimingMeasurement figure) => $"{Name(figure)}, margin {TimingText.Margin(figure)} {figure.Unit}";

    private static string Bar(TimingMeasurement figure, int width) =>
        (figure.Transmit ?? figure.Receive) is LimitRange limit && figure is { Min: double least, Max: double most }
            ? Bars.Margin(least, most, limit, width)
            : new string(' ', width);

    private static string Verdict(TimingMeasurement figure) => figure.Verdict switch
    {
        LimitVerdict.OutsideReceive => "outside",
        LimitVerdict.OutsideTransmit => "outside",
        LimitVerdict.Undecided => "undecided",
        _ => figure.Transmit is null && figure.Receive is null ? "no limit" : "inside",
    };

    // A limit of a second is written as one: the other end then needs its own unit.
    private static string Limit(LimitRange limit, string unit)
    {
        string text = TimingText.Limit(limit, unit);
        return text.EndsWith(" s", StringComparison.Ordinal) ? text.Replace(" to ", $" {unit} to ", StringComparison.Ordinal) : $"{text} {unit}";
    }

    private static string Fine(double resolution, string unit) => unit switch
    {
        "ms" => Figures.Time(Duration.FromNanoseconds((long)(resolution * 1e6))),
        "us" => Figures.Time(Duration.FromNanoseconds((long)(resolution * 1e3))),
        _ => $"{Figures.Number(resolution)} {unit}",
    };

    /// <summary>The spread of a figure: what it reaches from and to stands whole, the bars take what is left, neighbours in one where there are too many.</summary>
    internal static string Spread(TimingMeasurement figure, int width)
    {
        string reach = $"  {Figures.Number(figure.Histogram[0].From)} {figure.Unit} to {Figures.Number(figure.Histogram[^1].To)} {figure.Unit}";
        int room = Math.Max(1, width - 3 - reach.Length - TallestColumns);
        int together = (figure.Histogram.Count + room - 1) / room;
        long[] bars = [.. figure.Histogram.Chunk(together).Select(part => part.Sum(bar => bar.Count))];
        long tallest = bars.Max();
        int column = Math.Clamp(room / bars.Length, 1, WidestColumn);
        string plot = string.Concat(bars.Select(bar => new string(bar == 0 ? '.' : Bars.Column(bar, tallest), column)));
        return Wrapped.Cut($"   {plot}{reach}, tallest {Figures.Count(tallest)}", width);
    }

    private static IEnumerable<ScreenRow> Detail(TimingMeasurement figure, int width)
    {
        string code = figure.StartCode == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", START code {figure.StartCode:X2}h");
        string resolution = figure.Resolution is double fine ? ", resolution " + Fine(fine, figure.Unit) : "";
        yield return new ScreenRow(Wrapped.Cut(
            $" {Name(figure)}{code}: {TimingText.ShortVerdict(figure.Verdict, figure.Transmit is not null || figure.Receive is not null)}", width));
        yield return new ScreenRow(Wrapped.Cut(
            $"   median {Figures.Number(figure.Median)} {figure.Unit}, margin {TimingText.Margin(figure)} {figure.Unit}, {Figures.Count(figure.Count)} measured{resolution}, from {TimingText.At(figure.MeasuredAt)}", width));
        foreach ((string head, LimitRange? limit) in new[] { ("send", figure.Transmit), ("accept", figure.Receive) })
        {
            if (limit is not null)
            {
                yield return new ScreenRow(Wrapped.Cut($"   {head} {Limit(limit, figure.Unit)}: {limit.Source}", width));
            }
        }

        if (figure.Histogram.Count > 1)
        {
            yield return new ScreenRow(Spread(figure, width));
        }

        string against = figure.Verdict == LimitVerdict.Undecided && figure.UndecidedAgainst.Length > 0 ? "undecided: " + figure.UndecidedAgainst : "";
        string remark = string.Join("; ", new[] { against, figure.Note }.Where(part => part.Length > 0));
        if (remark.Length > 0)
        {
            foreach (ScreenRow row in Wrapped.Rows(Printable.Text(remark), width, "   "))
            {
                yield return row;
            }
        }
    }
}
