using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Cli.Ask;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>The guided questions about one unit.</summary>
internal static class LocateView
{
    private const int MostAnswers = 12;
    private const string InRecording = "a recording cannot be changed: bring it up at the rig itself, and answer what you see there. Answers count as asked; dmxprobe watch net, then D, hears what is really sent.";

    /// <summary>The answer, or what is asked, in one sentence; for a terminal too small for more.</summary>
    public static string Sentence(LocateGuide guide) =>
        guide.Problem.Length > 0 ? Figures.Capital(guide.Problem) + "."
        : guide.IsBusy ? "One moment: what tells most is being worked out."
        : guide.Answer?.Sentence ?? guide.Words;

    /// <summary>The heading.</summary>
    public static string Heading(LocateGuide guide) => $"Locate {Printable.Text(guide.Unit)}" + (guide switch
    {
        { IsBusy: true } or { Problem.Length: > 0 } => "",
        { Answer: not null } => "   the answer",
        { Step: AskStep.Question, Session: AskSession session } => $"   question {session.Answered + 1}{(guide.Confirms ? ", the confirming look" : "")}",
        _ => "   before the questions",
    });

    /// <summary>Words and keys.</summary>
    public static GuideRows Rows(LocateGuide guide, int width)
    {
        List<ScreenRow> rows = [new("")];
        rows.AddRange(Wrapped.Rows(Sentence(guide), width, " ", guide.Problem.Length > 0 ? Tint.Warning : guide.Answer is { AsTheSheetSays: false } ? Tint.Fault : Tint.Plain));
        if (guide.IsBusy || guide.Problem.Length > 0)
        {
            return new GuideRows(rows, []);
        }

        if (guide.Answer is LocateAnswer answer)
        {
            if (guide.Words.Length > 0)
            {
                rows.AddRange(Wrapped.Rows(guide.Words, width, " "));
            }

            if (answer.FurtherExplanation is { Length: > 0 } explanation)
            {
                rows.AddRange(Wrapped.Rows(explanation, width, " "));
            }

            rows.Add(new ScreenRow(""));
            Add(rows, "Do: ", answer.Action, width);
            bool claims = answer.IsClaim;
            Add(rows, claims && guide.Session?.End == AskEnd.Confirmed ? "Confirmed: " : claims ? "Confirm: " : "Next: ", answer.NextStep, width);
        }

        Add(rows, "", guide.Dead, width, Tint.Fault);
        if (guide.Step == AskStep.Clear)
        {
            rows.Add(new ScreenRow(""));
            rows.AddRange(Wrapped.Rows($"typed: {Printable.Text(guide.Typed)}_", width, " "));
        }

        Add(rows, "Mind: ", guide.IsRecording && guide.Step is AskStep.Controller or AskStep.Question ? InRecording : "", width, Tint.Warning);
        Add(rows, "Mind: ", guide.AlsoDead, width, Tint.Warning);
        foreach (string caution in guide.Cautions)
        {
            Add(rows, "Mind: ", caution, width, Tint.Warning);
        }

        rows.Add(new ScreenRow(""));
        Add(rows, "", guide.Said, width, Tint.Warning);
        if (guide.Answers.Count > 0)
        {
            Add(rows, guide.Answers.Count > MostAnswers ? "answered, the latest last: ... " : "answered: ", string.Join(", ", guide.Answers.TakeLast(MostAnswers)), width);
        }

        Add(rows, "", guide.Left.Length > 0 ? "how it was left: " + guide.Left : "", width);
        Add(rows, "", guide.Log is string log ? $"kept in {Printable.Text(log)}; locate --log and this screen go on from it" : "the answers are not kept: start with --log FILE", width);
        return new GuideRows(rows, guide.Keys());
    }

    private static void Add(List<ScreenRow> rows, string head, string text, int width, Tint tint = Tint.Plain)
    {
        if (text.Length > 0)
        {
            rows.AddRange(Wrapped.Rows(head + text, width, " ", tint));
        }
    }
}
