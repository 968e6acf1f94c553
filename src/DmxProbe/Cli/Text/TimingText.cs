using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Cli.Text;

/// <summary>Timing figures as text: the answer in one sentence, a table for each sender, the sources of the limits.</summary>
internal sealed class TimingText
{
    private const int MostSubjects = 24;
    private const int MostResolutions = 4;
    private static readonly HashSet<int> FigureColumns = [1, 2, 3, 4];

    private readonly TextPage _page;
    private readonly IReadOnlyList<TimedInput> _inputs;
    private readonly List<string> _sources = [];
    // A remark, and the quantities it is made of.
    private readonly Dictionary<string, List<string>> _remarks = [];

    private TimingText(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        _page = page;
        _inputs = inputs;
    }

    /// <summary>True for a figure outside limits of any kind.</summary>
    public static bool IsOutside(TimingMeasurement figure) =>
        figure.Verdict is LimitVerdict.OutsideTransmit or LimitVerdict.OutsideReceive
        || figure.Packets is { } packets && packets.OutsideTransmit + packets.OutsideReceive > 0;

    /// <summary>Writes the figures of one or several inputs, several side by side.</summary>
    public static void Write(TextPage page, IReadOnlyList<TimedInput> inputs, bool all) =>
        new TimingText(page, inputs).Write(all);

    private void Write(bool all)
    {
        List<TimingMeasurement> figures = [.. _inputs.SelectMany(input => input.Figures)];
        Doubts(_page, _inputs);
        _page.Paragraph(Headline(figures), tone: figures.Any(IsOutside) ? Tone.Fault : Tone.Plain);
        if (_inputs.Count > 1)
        {
            _page.Blank();
            for (int place = 0; place < _inputs.Count; place++)
            {
                _page.Paragraph($"{Letter(place)} = {_inputs[place].Input}", indent: 2);
            }
        }

        SideBySideText.Write(_page, _inputs);
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

        Notes("Spread of what is not inside (value: packets)", Spread(figures));
        LineText.Write(_page, _inputs);
        Notes("Remarks", _remarks.Select(remark => $"{string.Join(", ", remark.Value)}: {remark.Key}"));
        Notes("Limits", _sources.Select((source, place) => $"[{place + 1}] {source}"));
        Footer(figures);
    }

    /// <summary>What speaks against the reading itself, and where an input is cut: before any figure, for figures rest on it.</summary>
    public static void Doubts(TextPage page, IReadOnlyList<TimedInput> inputs)
    {
        foreach (TimedInput input in inputs)
        {
            foreach (LineChannelSummary channel in input.Lines.Where(channel => channel.Doubt != LineDoubt.None && channel.Line is not null))
            {
                page.Paragraph(LineDoubts.Sentence(channel, LineTimings.Subject(channel.Line!.Value, input.Lines)) + " Nothing is judged on it.", tone: Tone.Fault);
            }

            if (input.Cut.Length > 0)
            {
                page.Paragraph($"{input.Input} ends early, so only its beginning was measured: {input.Cut}", tone: Tone.Fault);
            }
        }
    }

    /// <summary>True where a channel shows something that speaks against its own reading.</summary>
    public static bool IsInDoubt(TimedInput input) => input.Lines.Any(channel => channel.Line is not null && channel.Doubt != LineDoubt.None);

    private static string Headline(List<TimingMeasurement> figures)
    {
        if (figures.Count == 0)
        {
            return "Nothing to measure: no sender of levels in this input.";
        }

        List<TimingMeasurement> outside = [.. figures.Where(IsOutside).OrderByDescending(Gravity)];
        int held = figures.Count(figure => figure.Verdict != LimitVerdict.NotMeasurable && (figure.Transmit ?? figure.Receive) is not null);
        int undecided = figures.Count(figure => figure.Verdict == LimitVerdict.Undecided);
        if (outside.Count == 0)
        {
            string open = undecided == 0 ? "" : $"; {Figures.Count(undecided, "is", "are")} undecided";
            return held == 0
                ? "Measured; no figure here has a limit to be held against."
                : undecided == held
                ? $"Nothing is decided: {Figures.Count(held, "figure is", "figures are")} held against a limit, and too little or nothing sure stands behind {(held == 1 ? "it" : "them")}."
                : $"No figure is outside its limits ({Figures.Count(held, "figure")} held against a limit{open}).";
        }

        TimingMeasurement worst = outside[0];
        string more = outside.Count == 1 ? "" : $" ({Figures.Count(outside.Count, "figure")} outside in all)";
        if (worst.Packets is not null)
        {
            return LineAnswer.Of(worst, QuantityWords(worst.Quantity)) + more;
        }

        return $"{worst.Subject}: {QuantityWords(worst.Quantity)} is {Verdict(worst)}: {Range(worst)} {worst.Unit}, limit {Limit(worst.Verdict == LimitVerdict.OutsideReceive ? worst.Receive ?? worst.Transmit : worst.Transmit ?? worst.Receive, worst.Unit)}{more}.";
    }

    // What a receiver may fail on weighs most; then what most packets do.
    private static (int Kind, double Share) Gravity(TimingMeasurement figure)
    {
        bool receive = figure.Verdict == LimitVerdict.OutsideReceive || figure.Packets is { OutsideReceive: > 0 };
        double share = figure.Packets is { All: > 0 } packets ? (double)(packets.OutsideTransmit + packets.OutsideReceive) / packets.All : 1;
        return (receive ? 1 : 0, share);
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
        if (rows.TrueForAll(row => row.Figure.Verdict == LimitVerdict.NotMeasurable))
        {
            // Nothing but dashes: the remark says it in one sentence.
            rows.ForEach(row => Remark(row.Figure));
            return;
        }

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
        Remark(figure);
        return
        [
            $"{input}{QuantityWords(figure.Quantity)}{(figure.Unit == "slots" ? "" : ", " + figure.Unit)}{code}",
            Number(figure.Min, figure.Unit),
            Number(figure.Median, figure.Unit),
            Number(figure.Max, figure.Unit),
            Figures.Count(figure.Count),
            Limits(figure),
            Margin(figure),
            ShortVerdict(figure.Verdict, figure.Transmit is not null || figure.Receive is not null) + InPackets(figure),
        ];
    }

    // In how many packets, where some stand otherwise than the rest.
    private static string InPackets(TimingMeasurement figure)
    {
        if (figure.Packets is not { } packets || packets.Inside == packets.All)
        {
            return "";
        }

        long of = figure.Verdict switch
        {
            LimitVerdict.OutsideReceive => packets.OutsideReceive,
            LimitVerdict.OutsideTransmit => packets.OutsideTransmit,
            _ => packets.Undecided,
        };
        return $", {Figures.Count(of)} of {Figures.Count(packets.All)}";
    }

    private void Remark(TimingMeasurement figure)
    {
        string against = figure.Verdict == LimitVerdict.Undecided && figure.UndecidedAgainst.Length > 0
            ? "undecided: " + figure.UndecidedAgainst
            : figure.Verdict == LimitVerdict.NotMeasurable ? $"not measurable {(figure.MeasuredAt == "edges" ? "in this recording" : $"on this input ({figure.MeasuredAt})")}" : "";
        string remark = string.Join("; ", new[] { against, figure.Note }.Where(part => part.Length > 0));
        if (remark.Length > 0)
        {
            string quantity = QuantityWords(figure.Quantity);
            if (!_remarks.TryGetValue(remark, out List<string>? quantities))
            {
                _remarks[remark] = quantities = [];
            }

            if (!quantities.Contains(quantity))
            {
                quantities.Add(quantity);
            }
        }
    }

    private string Limits(TimingMeasurement figure)
    {
        if (figure.Transmit is LimitRange transmit && figure.Receive is LimitRange receive && transmit != receive)
        {
            return $"send {Limit(transmit, figure.Unit)} [{Source(transmit)}], accept {Limit(receive, figure.Unit)} [{Source(receive)}]";
        }

        return (figure.Transmit ?? figure.Receive) is LimitRange only ? $"{Limit(only, figure.Unit)} [{Source(only)}]" : Figures.None;
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

    /// <summary>How far the nearest limit is, in the figure's unit; below 0 beyond it.</summary>
    public static string Margin(TimingMeasurement figure) => TimingWords.Margin(figure);

    private static string Number(double? value, string unit) => TimingWords.Number(value, unit);

    /// <summary>A limit in figures.</summary>
    public static string Limit(LimitRange? limit, string unit) => TimingWords.Limit(limit, unit);

    private static string Range(TimingMeasurement figure) =>
        figure.Min == figure.Max ? Number(figure.Max, figure.Unit) : $"{Number(figure.Min, figure.Unit)} to {Number(figure.Max, figure.Unit)}";

    private static string Verdict(TimingMeasurement figure) => figure.Verdict switch
    {
        LimitVerdict.OutsideReceive => "outside what a receiver must accept",
        LimitVerdict.OutsideTransmit => "outside the transmit limits",
        _ => ShortVerdict(figure.Verdict, limited: true),
    };

    /// <summary>A verdict in a word or two.</summary>
    public static string ShortVerdict(LimitVerdict verdict, bool limited) => TimingWords.ShortVerdict(verdict, limited);

    /// <summary>A quantity in words.</summary>
    public static string QuantityWords(string quantity) => LineTimings.Words(quantity);

    private static IEnumerable<string> Spread(List<TimingMeasurement> figures) =>
        from figure in figures
        where figure.Histogram.Count > 1 && figure.Verdict is not (LimitVerdict.Inside or LimitVerdict.NotMeasurable)
        let bars = figure.Histogram.Where(bar => bar.Count > 0).Select(bar => bar.From == bar.To
            ? $"{Number(bar.From, figure.Unit)}: {Figures.Count(bar.Count)}"
            : $"{Number(bar.From, figure.Unit)} to {Number(bar.To, figure.Unit)}: {Figures.Count(bar.Count)}")
        select $"{figure.Subject}, {QuantityWords(figure.Quantity)}, {figure.Unit}: {string.Join(", ", bars)}";

    internal static string Letter(int place) => place < 26
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
            figures.Where(figure => figure.Resolution is not null).GroupBy(figure => $"{Figures.Number(figure.Resolution)} {figure.Unit}")
                .Take(MostResolutions).Select(same => $"{same.Key} ({string.Join(", ", same.Select(figure => QuantityWords(figure.Quantity)).Distinct())})"));
        string fine = resolutions.Length == 0 ? "" : $"; resolution {resolutions}";
        _page.Paragraph($"Measured at: {places}{fine}. Count: how many single measurements stand behind a row. Margin: how far the nearest limit is, in the row's unit.");
        if (figures.Any(figure => figure.Protocol == UniverseProtocol.Line && figure.Verdict != LimitVerdict.NotMeasurable))
        {
            _page.Paragraph("A 'never' rests on its count: n packets without one leave, at 95 %, up to 3 in n unseen, if packets vary independently.");
        }
    }

    /// <summary>Where a figure was measured, in words.</summary>
    public static string At(string place) => TimingWords.At(place);
}
