using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The timing record: a controller, a gateway or a stretch of line held against its limits, as one page to hand over.</summary>
public static class TimingRecordPage
{
    /// <summary>What the page is and what it is not.</summary>
    public const string Nature = "Timing record. Figures measured; limits from the sources named; not a certificate of conformity.";

    private const int MostOutsideTold = 4;
    private const int MostPictures = 40;
    private const int MostAnswersFirst = 20;
    private static readonly string[] Drawn = ["break", "markAfterBreak", "interSlot", "slotTime", "refreshRate"];

    /// <summary>Writes the page.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="content">What is in it.</param>
    public static void Write(Stream output, TimingRecordContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        HtmlShell.Write(output, content.Title, html => Body(html, content));
    }

    /// <summary>The answers of all inputs, what is outside first, then what is open; last what is not measurable at all.</summary>
    /// <param name="timed">The figures.</param>
    public static IReadOnlyList<(string Input, LimitAnswer Answer)> Answers(IEnumerable<TimedInput> timed) =>
    [
        .. timed.SelectMany(input => input.Figures.SelectMany(LimitAnswer.Of).Select(answer => (input.Input, answer)))
            .OrderBy(row => (row.answer.Standing, row.answer.Figure.Verdict) switch
            {
                (LimitStanding.Outside, _) => 0,
                (LimitStanding.Within, _) => 2,
                (_, LimitVerdict.NotMeasurable) => 3,
                _ => 1,
            }),
    ];

    private static void Body(HtmlWriter html, TimingRecordContent content)
    {
        IReadOnlyList<(string Input, LimitAnswer Answer)> answers = Answers(content.Timed);
        HtmlParts.Head(
            html,
            content.Title,
            string.Join("; ", new[] { content.Place, Covered(content), content.By.Length > 0 ? "by " + content.By : "" }.Where(part => part.Length > 0)),
            [
                ("limits", "Each limit"), ("open", "Not decided"), ("measured", "How measured"), ("figures", "Figures"), ("pictures", "Pictures"),
                ("not-tested", "Not tested"), ("sources", "Sources"), ("options", "Options"), ("files", "Files"),
            ]);
        _ = html.Open("main", ("id", "main"));
        Answer(html, content, answers);

        // The part to be read first has two sheets of paper: many senders have their tables behind it.
        bool isShort = answers.Count <= MostAnswersFirst;
        bool isSeveral = content.Timed.Count > 1;
        if (isShort)
        {
            Each(html, isSeveral, answers);
        }
        else if (answers.Where(row => row.Answer.Standing == LimitStanding.Outside || (row.Answer.Standing == LimitStanding.Open && row.Answer.Figure.Verdict != LimitVerdict.NotMeasurable))
            .Take(MostAnswersFirst).ToList() is { Count: > 0 } worst)
        {
            HtmlParts.Section(html, "worst", "Outside, or not decided although it was measured");
            TimingRecordTables.Answers(html, isSeveral, worst, TimingRecordTables.SourcesOf(answers));
        }

        Open(html, content, answers);
        _ = html.Open("div", ("id", "after"));
        if (!isShort)
        {
            Each(html, isSeveral, answers);
        }

        HtmlParts.Section(html, "measured", "How it was measured");
        HtmlParts.Sentences(html, content.Connected, "Nobody told this record where the instrument was connected; what the inputs say of themselves stands below.");
        TimingRecordTables.Instrument(html, content);
        HtmlParts.Paragraph(html, $"{content.Instrument}. A figure is outside a limit only where it is outside by more than it may be off: one sample period and the error allowed for the clock. Nearer than that, the limit is not decided.");
        content.Channels.ToList().ForEach(sentence => HtmlParts.Paragraph(html, sentence));
        content.Timed.SelectMany(input => input.Assumptions).Distinct().ToList().ForEach(sentence => HtmlParts.Paragraph(html, Figures.Ended(sentence)));
        HtmlParts.Section(html, "figures", "Figures");
        TimingRecordTables.Measured(html, content);
        if (content.Taps.Count > 0)
        {
            html.Line("h3", "Two taps of one show");
            content.Taps.ToList().ForEach(sentence => HtmlParts.Paragraph(html, sentence));
        }

        Pictures(html, content);
        HtmlParts.Section(html, "not-tested", "What was not tested");
        HtmlParts.Sentences(html, content.NotTested, "Nothing is known to be left out.");
        HtmlParts.Section(html, "sources", "Where the limits are from");
        TimingRecordTables.Sources(html, answers);
        HtmlParts.Section(html, "options", "Options used");
        HtmlParts.Table(html, "Options used", ["option", "value", "given or by itself"], content.Options.Select(option => (IReadOnlyList<string>)[option.Name, option.Value, option.IsGiven ? "given" : "by itself"]));
        HtmlParts.Section(html, "files", "Files");
        ReportTables.Files(html, content.Files);
        HtmlParts.Paragraph(html, "This page is made again, octet for octet, in the folder of these files by: " + content.Command);
        _ = html.Close().Close();
        HtmlParts.Foot(html, Nature);
    }

    private static void Each(HtmlWriter html, bool isSeveral, IReadOnlyList<(string Input, LimitAnswer Answer)> answers)
    {
        HtmlParts.Section(html, "limits", "The answer for each limit");
        TimingRecordTables.Answers(html, isSeveral, answers, TimingRecordTables.SourcesOf(answers));
    }

    // A recorder's own time counts from 0: it is no date.
    private static string Covered(TimingRecordContent content)
    {
        string[] spans =
        [
            .. content.Timed.SelectMany(input => input.Inputs).Where(input => input is { First: not null, Last: not null } && !TimingRecordTables.IsUndated(input))
                .Select(input => content.Clock.Span(input.First!.Value, input.Last!.Value)).Distinct(),
        ];
        return spans.Length == 0 ? "recorded without a date" : string.Join(", ", spans.Take(3));
    }

    private static void Answer(HtmlWriter html, TimingRecordContent content, IReadOnlyList<(string Input, LimitAnswer Answer)> answers)
    {
        LimitAnswer[] outside = [.. answers.Select(row => row.Answer).Where(answer => answer.Standing == LimitStanding.Outside)];
        int open = answers.Count(row => row.Answer.Standing == LimitStanding.Open);
        int within = answers.Count - outside.Length - open;
        html.Line("h2", "The answer", ("id", "answer"));
        html.Break();
        _ = html.Open("div", ("class", "answer " + (outside.Length > 0 ? "fault" : open > 0 || answers.Count == 0 ? "warning" : "clean")));
        HtmlParts.Paragraph(
            html,
            outside.Length > 0 ? $"Outside {Figures.Count(outside.Length)} of {Figures.Count(answers.Count, "limit")}: {string.Join("; ", outside.Select(Short).Distinct().Take(MostOutsideTold))}."
            : answers.Count == 0 ? "No figure here has a limit to be held against."
            : within == 0 ? $"Nothing is decided: none of {Figures.Count(answers.Count, "limit")} can be decided with this input."
            : open == 0 ? $"Within all {Figures.Count(answers.Count, "limit")}."
            : $"Outside no limit: within {Figures.Count(within)} of {Figures.Count(answers.Count, "limit")}, and {Figures.Count(open)} cannot be decided with this input.");
        foreach (TimingMeasurement figure in outside.Select(answer => answer.Figure).Distinct().Take(MostOutsideTold))
        {
            HtmlParts.Paragraph(html, figure.Packets is not null
                ? LineAnswer.Of(figure, LineTimings.Words(figure.Quantity))
                : $"{figure.Subject}: {LineTimings.Words(figure.Quantity)} {TimingWords.Number(figure.Min, figure.Unit)} to {TimingWords.Number(figure.Max, figure.Unit)} {figure.Unit}, limit {TimingWords.Limit(figure.Transmit ?? figure.Receive, figure.Unit)}.");
        }

        string undecided = string.Join(", ", answers.Where(row => row.Answer.Standing == LimitStanding.Open).Select(row => LineTimings.Words(row.Answer.Figure.Quantity)).Distinct());
        HtmlParts.Paragraph(html, $"Within: {Figures.Count(within)}. Outside: {Figures.Count(outside.Length)}. Cannot be decided with this input: {Figures.Count(open)}{(undecided.Length > 0 ? $" ({undecided})" : "")}.");
        foreach (TimedInput input in content.Timed.Where(input => input.Cut.Length > 0))
        {
            HtmlParts.Paragraph(html, $"{input.Input} ends early, so only its beginning was measured: {Figures.Ended(input.Cut)}", "caution");
        }

        _ = html.Close();
        html.Break();
        HtmlParts.Paragraph(html, Nature);
    }

    private static string Near(LimitAnswer answer) => LineTimings.Words(answer.Figure.Quantity)
        + (answer.Figure.MaxUncertainty > 0 ? $" (\u00B1{Figures.Number(Math.Max(answer.Figure.MinUncertainty, answer.Figure.MaxUncertainty))} {answer.Figure.Unit})" : "");

    private static string Short(LimitAnswer answer) =>
        $"{LineTimings.Words(answer.Figure.Quantity)} of {answer.Figure.Subject}{(answer.Side == LimitSide.Send ? "" : ", what a receiver must accept")}";

    private static void Open(HtmlWriter html, TimingRecordContent content, IReadOnlyList<(string Input, LimitAnswer Answer)> answers)
    {
        HtmlParts.Section(html, "open", "What this input cannot decide");
        IEnumerable<string> why =
            from row in answers
            where row.Answer.Standing == LimitStanding.Open
            group Near(row.Answer) by (row.Input, row.Answer.Why) into same
            select $"{(content.Timed.Count > 1 ? same.Key.Input + ": " : "")}{string.Join(", ", same.Distinct())}: {(same.Key.Why.Length > 0 ? same.Key.Why : "not measurable here")}";
        HtmlParts.Sentences(html, [.. why], "Every limit was decided.");
        if (answers.Any(row => row.Answer.Standing == LimitStanding.Open && row.Answer.Figure.Resolution is not null))
        {
            HtmlParts.Paragraph(html, "In brackets: what the figure may be off by here. A recorder that samples more finely, or a clock that is known better (--clock-ppm), decides it.");
        }

        string few = string.Join(", ", answers.Where(row => row.Answer.Standing == LimitStanding.Within && row.Answer.Figure is { Count: < 300, Protocol: UniverseProtocol.Line }).Select(row => LineTimings.Words(row.Answer.Figure.Quantity)).Distinct());
        if (few.Length > 0)
        {
            long least = answers.Where(row => row.Answer.Standing == LimitStanding.Within && row.Answer.Figure.Protocol == UniverseProtocol.Line).Min(row => row.Answer.Figure.Count);
            HtmlParts.Paragraph(html, $"Within, but on few packets: {few}. With {Figures.Count(least, "packet")} without one outside, up to {Figures.Number(LimitRule.UnseenShare(least) * 100)} % may still lie outside unseen (rule of three, 95 %, if packets vary independently).");
        }
    }

    private static void Pictures(HtmlWriter html, TimingRecordContent content)
    {
        HtmlParts.Section(html, "pictures", "Pictures");
        List<Picture> pictures =
        [
            .. content.Timed
                .SelectMany(input => input.Figures.Where(IsDrawn).Select(figure => HistogramPicture.Draw(figure, input.Input, always: true)))
                .OfType<Picture>(),
        ];
        for (int place = 0; place < Math.Min(pictures.Count, MostPictures); place++)
        {
            HtmlParts.Of(html, pictures[place], place + 1);
        }

        HtmlParts.Paragraph(
            html,
            pictures.Count == 0 ? "There is nothing to draw: no figure of this input has values of single packets."
            : pictures.Count > MostPictures ? $"{Figures.Count(MostPictures)} of {Figures.Count(pictures.Count, "picture")} are shown; the table above has every figure."
            : "");
    }

    // On a network the intervals between frames are what there is of a rate.
    private static bool IsDrawn(TimingMeasurement figure) =>
        Drawn.Contains(figure.Quantity) || (figure.Quantity == "silence" && figure.Protocol != UniverseProtocol.Line);
}
