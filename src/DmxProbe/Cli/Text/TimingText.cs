using System.Globalization;
using System.Text;

using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>Timing figures as text: the answer in one sentence, a table for each sender, the sources of the limits.</summary>
internal sealed class TimingText
{
    private const int MostSubjects = 24;
    private static readonly HashSet<int> FigureColumns = [1, 2, 3, 4];

    private readonly TextPage _page;
    private readonly IReadOnlyList<(string Input, IReadOnlyList<TimingMeasurement> Figures)> _inputs;
    private readonly List<string> _sources = [];
    private readonly List<string> _remarks = [];

    private TimingText(TextPage page, IReadOnlyList<(string Input, IReadOnlyList<TimingMeasurement> Figures)> inputs)
    {
        _page = page;
        _inputs = inputs;
    }

    /// <summary>True for a figure outside limits of any kind.</summary>
    public static bool IsOutside(TimingMeasurement figure) =>
        figure.Verdict is LimitVerdict.OutsideTransmit or LimitVerdict.OutsideReceive;

    /// <summary>Writes the figures of one or several inputs, several side by side.</summary>
    public static void Write(TextPage page, IReadOnlyList<(string Input, IReadOnlyList<TimingMeasurement> Figures)> inputs, bool all) =>
        new TimingText(page, inputs).Write(all);

    private void Write(bool all)
    {
        List<TimingMeasurement> figures = [.. _inputs.SelectMany(input => input.Figures)];
        _page.Paragraph(Headline(figures), tone: figures.Any(IsOutside) ? Tone.Fault : Tone.Plain);
        if (_inputs.Count > 1)
        {
            _page.Blank();
            for (int place = 0; place < _inputs.Count; place++)
            {
                _page.Paragraph($"{Letter(place)} = {_inputs[place].Input}", indent: 2);
            }
        }

        List<string> subjects = [.. figures.Select(figure => figure.Subject).Distinct()];
        List<string> shown = Shown(figures, subjects, all ? int.MaxValue : MostSubjects);
        foreach (string subject in shown)
        {
            Subject(subject);
        }

        if (shown.Count < subjects.Count)
        {
            _page.Blank();
            _page.Paragraph($"and {Figures.Count(subjects.Count - shown.Count, "more sender")} (--all shows all)");
        }

        Notes("Remarks", _remarks);
        Notes("Limits", _sources.Select((source, place) => $"[{place + 1}] {source}"));
        Footer(figures);
    }

    private static string Headline(List<TimingMeasurement> figures)
    {
        if (figures.Count == 0)
        {
            return "Nothing to measure: no sender of levels in this input.";
        }

        List<TimingMeasurement> outside = [.. figures.Where(IsOutside).OrderByDescending(figure => figure.Verdict)];
        int held = figures.Count(figure => figure.Verdict != LimitVerdict.NotMeasurable && (figure.Transmit ?? figure.Receive) is not null);
        int undecided = figures.Count(figure => figure.Verdict == LimitVerdict.Undecided);
        if (outside.Count == 0)
        {
            string open = undecided == 0 ? "" : $"; {Figures.Count(undecided, "is", "are")} undecided";
            return held == 0
                ? "Measured; no figure here has a limit to be held against."
                : $"No figure is outside its limits ({Figures.Count(held, "figure")} held against a limit{open}).";
        }

        TimingMeasurement worst = outside[0];
        string more = outside.Count == 1 ? "" : $" ({Figures.Count(outside.Count, "figure")} outside in all)";
        return $"{worst.Subject}: {QuantityWords(worst.Quantity)} is {Verdict(worst)}: {Range(worst)} {worst.Unit}, limit {Limit(worst.Transmit ?? worst.Receive)}{more}.";
    }

    // Senders with a figure outside come first in line when there are too many to print; the order stays.
    private static List<string> Shown(List<TimingMeasurement> figures, List<string> subjects, int most)
    {
        if (subjects.Count <= most)
        {
            return subjects;
        }

        HashSet<string> blamed = [.. figures.Where(IsOutside).Select(figure => figure.Subject)];
        HashSet<string> kept = [.. subjects.OrderBy(subject => blamed.Contains(subject) ? 0 : 1).Take(most)];
        return [.. subjects.Where(kept.Contains)];
    }

    private void Subject(string subject)
    {
        List<(int Place, TimingMeasurement Figure)> rows =
        [
            .. _inputs
                .SelectMany((input, place) => input.Figures.Where(figure => figure.Subject == subject).Select(figure => (place, figure))),
        ];
        _page.Blank();
        _page.Heading(subject);
        List<string[]> cells = [];

        // Rows of one quantity stand together, one for each input, in the order in which quantities first came.
        foreach (IGrouping<(string, int), (int Place, TimingMeasurement Figure)> same in
            rows.GroupBy(row => (row.Figure.Quantity, row.Figure.StartCode)))
        {
            cells.AddRange(same.Select(row => Row(row.Place, row.Figure)));
        }

        _page.Table(["quantity", "least", "median", "most", "count", "limit", "margin", "verdict"], FigureColumns, cells);
    }

    private string[] Row(int place, TimingMeasurement figure)
    {
        string input = _inputs.Count > 1 ? Letter(place) + ": " : "";
        string code = figure.StartCode == 0
            ? ""
            : string.Create(CultureInfo.InvariantCulture, $" (START code 0x{figure.StartCode:X2})");
        Remark(input, figure);
        return
        [
            $"{input}{QuantityWords(figure.Quantity)}, {figure.Unit}{code}",
            Figures.Number(figure.Min),
            Figures.Number(figure.Median),
            Figures.Number(figure.Max),
            Figures.Count(figure.Count),
            Limits(figure),
            Margin(figure),
            ShortVerdict(figure.Verdict, figure.Transmit is not null || figure.Receive is not null),
        ];
    }

    private void Remark(string input, TimingMeasurement figure)
    {
        string against = figure.Verdict == LimitVerdict.Undecided && figure.UndecidedAgainst.Length > 0
            ? "undecided against " + figure.UndecidedAgainst
            : figure.Verdict == LimitVerdict.NotMeasurable ? $"not measurable on this input ({figure.MeasuredAt})" : "";
        string remark = string.Join("; ", new[] { against, figure.Note }.Where(part => part.Length > 0));
        if (remark.Length > 0)
        {
            _remarks.Add($"{input}{figure.Subject}, {QuantityWords(figure.Quantity)}: {remark}");
        }
    }

    private string Limits(TimingMeasurement figure)
    {
        if (figure.Transmit is LimitRange transmit && figure.Receive is LimitRange receive && transmit != receive)
        {
            return $"send {Limit(transmit)} [{Source(transmit)}], accept {Limit(receive)} [{Source(receive)}]";
        }

        return (figure.Transmit ?? figure.Receive) is LimitRange only ? $"{Limit(only)} [{Source(only)}]" : Figures.None;
    }

    private string Source(LimitRange limit)
    {
        int place = _sources.IndexOf(limit.Source);
        if (place < 0)
        {
            place = _sources.Count;
            _sources.Add(limit.Source);
        }

        return (place + 1).ToString(CultureInfo.InvariantCulture);
    }

    private static string Margin(TimingMeasurement figure)
    {
        if ((figure.Transmit ?? figure.Receive) is not LimitRange limit || figure.Verdict == LimitVerdict.NotMeasurable)
        {
            return Figures.None;
        }

        double? above = limit.Min is double least && figure.Min is double min ? min - least : null;
        double? below = limit.Max is double greatest && figure.Max is double max ? greatest - max : null;
        double? margin = above is null ? below : below is null ? above : Math.Min(above.Value, below.Value);
        return margin is double value ? (value >= 0 ? "+" : "") + Figures.Number(value) : Figures.None;
    }

    private static string Limit(LimitRange? limit) => limit switch
    {
        { Min: double min, Max: double max } when min == max => Figures.Number(min),
        { Min: double min, Max: double max } => $"{Figures.Number(min)} to {Figures.Number(max)}",
        { Min: double min } => $"at least {Figures.Number(min)}",
        { Max: double max } => $"at most {Figures.Number(max)}",
        _ => Figures.None,
    };

    private static string Range(TimingMeasurement figure) =>
        figure.Min == figure.Max ? Figures.Number(figure.Max) : $"{Figures.Number(figure.Min)} to {Figures.Number(figure.Max)}";

    private static string Verdict(TimingMeasurement figure) => figure.Verdict switch
    {
        LimitVerdict.OutsideReceive => "outside what a receiver must accept",
        LimitVerdict.OutsideTransmit => "outside the transmit limits",
        _ => ShortVerdict(figure.Verdict, limited: true),
    };

    private static string ShortVerdict(LimitVerdict verdict, bool limited) => verdict switch
    {
        LimitVerdict.Inside => limited ? "inside" : "no limit",
        LimitVerdict.OutsideTransmit => "outside transmit",
        LimitVerdict.OutsideReceive => "outside receive",
        LimitVerdict.Undecided => "undecided",
        _ => "not measurable",
    };

    private static string QuantityWords(string quantity) => quantity switch
    {
        "slotCount" => "slots sent",
        "silence" => "silent for",
        "keepAlive" => "keep-alive",
        _ => Spaced(quantity),
    };

    private static string Spaced(string camel)
    {
        StringBuilder words = new();
        foreach (char letter in camel)
        {
            words.Append(char.IsUpper(letter) ? " " : "").Append(char.ToLowerInvariant(letter));
        }

        return words.ToString();
    }

    private static string Letter(int place) => place < 26
        ? ((char)('A' + place)).ToString()
        : "A" + place.ToString(CultureInfo.InvariantCulture);

    private void Notes(string heading, IEnumerable<string> notes)
    {
        List<string> list = [.. notes];
        if (list.Count == 0)
        {
            return;
        }

        _page.Blank();
        _page.Heading(heading);
        foreach (string note in list)
        {
            _page.Paragraph(note, indent: 2);
        }
    }

    private void Footer(List<TimingMeasurement> figures)
    {
        if (figures.Count == 0)
        {
            return;
        }

        _page.Blank();
        string places = string.Join(", ", figures.Select(figure => figure.MeasuredAt).Distinct().Select(At));
        string resolutions = string.Join(
            ", ",
            figures.Where(figure => figure.Resolution is not null).Select(figure => $"{Figures.Number(figure.Resolution)} {figure.Unit}").Distinct().Take(4));
        string fine = resolutions.Length == 0 ? "" : $"; resolution {resolutions}";
        _page.Paragraph($"Measured at: {places}{fine}. Count: how many single measurements stand behind a row. Margin: how far the nearest limit is, in the row's unit.");
    }

    private static string At(string place) => place switch
    {
        "network" => "network arrival at the capture point",
        "usb" => "message arrival at the USB interface",
        "uart" => "a serial port",
        "edges" => "the line's edges",
        _ => place,
    };
}
