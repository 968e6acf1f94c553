using System.Globalization;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The tables of a timing record.</summary>
internal static class TimingRecordTables
{
    private static readonly HashSet<int> AnswerFigures = [4, 5];
    private static readonly HashSet<int> MeasuredFigures = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

    /// <summary>A recording whose time counts from its own start.</summary>
    public static bool IsUndated(InputSummary input) => input.Interfaces.All(each => each.StampedBy == StampedBy.SampleClock) && input.Interfaces.Count > 0;

    /// <summary>The sources of the limits in the order in which they are numbered.</summary>
    public static IReadOnlyList<string> SourcesOf(IReadOnlyList<(string Input, LimitAnswer Answer)> answers) => [.. answers.Select(row => row.Answer.Limit.Source).Distinct()];

    /// <summary>An answer for each limit, a table for each sender or line, the one that breaks a limit first.</summary>
    public static void Answers(HtmlWriter html, bool isSeveral, IReadOnlyList<(string Input, LimitAnswer Answer)> answers, IReadOnlyList<string> sources)
    {
        List<string> numbered = [.. sources];
        foreach (IGrouping<string, (string Input, LimitAnswer Answer)> group in answers.GroupBy(row => (isSeveral ? row.Input + ": " : "") + Subject(row.Answer.Figure)))
        {
            html.Line("h3", group.Key);
            HtmlParts.Table(
                html,
                "The answer for each limit of " + group.Key,
                ["quantity", "limit", "answer", "measured", "nearest to it", "frames", "source"],
                group.Select(row => (IReadOnlyList<string>)
                [
                    LineTimings.Words(row.Answer.Figure.Quantity),
                    $"{(row.Answer.Side == LimitSide.Send ? "to send" : "a receiver must accept")}: {TimingWords.LimitInWords(row.Answer.Limit, row.Answer.Figure.Unit)}",
                    Word(row.Answer),
                    Range(row.Answer.Figure),
                    Nearest(row.Answer),
                    Frames(row.Answer),
                    "[" + (numbered.IndexOf(row.Answer.Limit.Source) + 1).ToString(CultureInfo.InvariantCulture) + "]",
                ]),
                AnswerFigures);
        }

        if (answers.Count > 0)
        {
            HtmlParts.Paragraph(html, "Nearest to it: how far the value that comes nearest is from the limit; below 0 it is beyond. Frames: how many single values stand behind the answer, or in how many of them it is so.");
        }
    }

    /// <summary>Where each limit is from.</summary>
    public static void Sources(HtmlWriter html, IReadOnlyList<(string Input, LimitAnswer Answer)> answers) =>
        HtmlParts.Sentences(html, [.. SourcesOf(answers).Select((source, place) => string.Create(CultureInfo.InvariantCulture, $"[{place + 1}] {source}"))], "No limit was used.");

    /// <summary>How finely each input measures, and what it is.</summary>
    public static void Instrument(HtmlWriter html, TimingRecordContent content) => HtmlParts.Table(
        html,
        "Inputs",
        ["input", "measured at", "interface", "stamped by", "resolution", "clock error allowed", "what it holds", "from", "to"],
        content.Timed.SelectMany(timed => timed.Inputs.SelectMany(input => input.Interfaces.DefaultIfEmpty().Select(each => (IReadOnlyList<string>)
        [
            timed.Input,
            string.Join(", ", timed.Figures.Select(figure => TimingWords.At(figure.MeasuredAt)).Distinct()),
            ReportTables.NameOf(each),
            ReportTables.StampedByWords(each?.StampedBy),
            each is null ? Figures.None : Figures.Time(each.Resolution),
            Figures.Number(timed.ClockPpm) + " ppm",
            ReportTables.Amount(timed.Lines, input, each),
            Moment(content, input, input.First),
            Moment(content, input, input.Last),
        ]))));

    /// <summary>Every figure, a table for each sender or line.</summary>
    public static void Measured(HtmlWriter html, TimingRecordContent content)
    {
        foreach (TimedInput input in content.Timed)
        {
            foreach (IGrouping<string, TimingMeasurement> group in input.Figures.Where(figure => figure.Verdict != LimitVerdict.NotMeasurable).GroupBy(Subject))
            {
                html.Line("h3", (content.Timed.Count > 1 ? input.Input + ": " : "") + group.Key);
                HtmlParts.Table(
                    html,
                    "Figures of " + group.Key,
                    ["quantity, unit", "least", "p5", "median", "mean", "p95", "most", "s.d.", "frames", "resolution", "known to"],
                    group.Select(figure => (IReadOnlyList<string>)
                    [
                        $"{LineTimings.Words(figure.Quantity)}, {figure.Unit}",
                        TimingWords.Number(figure.Min, figure.Unit),
                        Figures.Number(figure.P5),
                        TimingWords.Number(figure.Median, figure.Unit),
                        Figures.Number(figure.Mean),
                        Figures.Number(figure.P95),
                        TimingWords.Number(figure.Max, figure.Unit),
                        Figures.Number(figure.Deviation),
                        Figures.Count(figure.Count),
                        figure.Resolution is double step ? Figures.Number(step) : Figures.None,
                        figure.MaxUncertainty > 0 ? "\u00B1" + Figures.Number(Math.Max(figure.MinUncertainty, figure.MaxUncertainty)) : Figures.None,
                    ]),
                    MeasuredFigures);
                HtmlParts.Paragraph(html, string.Join(" ", group.Where(figure => figure.Note.Length > 0).Select(figure => $"{Figures.Capital(LineTimings.Words(figure.Quantity))}: {Figures.Ended(figure.Note)}")));
            }
        }
    }

    private static string Word(LimitAnswer answer) => answer.Standing switch
    {
        LimitStanding.Within => "within",
        LimitStanding.Outside => "OUTSIDE",
        _ => "cannot be decided with this input",
    };

    private static string Range(TimingMeasurement figure)
    {
        string least = TimingWords.Number(figure.Min, figure.Unit);
        string most = TimingWords.Number(figure.Max, figure.Unit);
        return figure.Min is null ? Figures.None : least == most ? $"{most} {figure.Unit}" : $"{least} to {most} {figure.Unit}";
    }

    private static string Nearest(LimitAnswer answer) =>
        TimingWords.Margin(answer.Figure, answer.Limit) is var margin && margin == Figures.None ? margin : $"{margin} {answer.Figure.Unit}";

    private static string Frames(LimitAnswer answer)
    {
        if (answer.Figure.Packets is not { } packets || answer.Standing == LimitStanding.Within)
        {
            return Figures.Count(answer.Figure.Count);
        }

        long of = answer.Standing == LimitStanding.Open ? packets.Undecided
            : answer.Side == LimitSide.Accept ? packets.OutsideReceive
            : packets.OutsideTransmit + packets.OutsideReceive;
        return $"{Figures.Count(of)} of {Figures.Count(packets.All)}";
    }

    private static string Subject(TimingMeasurement figure) =>
        figure.Subject
        + (figure.StartCode == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", START code {figure.StartCode:X2}h"))
        + (figure.Role.Length > 0 ? ", limits of: " + figure.Role : "");

    private static string Moment(TimingRecordContent content, InputSummary input, Timestamp? moment) => moment is not Timestamp time ? Figures.None
        : IsUndated(input) ? Figures.Number(time.UnixNanoseconds / 1e9) + " s"
        : content.Clock.Time(time) + " UTC";
}
