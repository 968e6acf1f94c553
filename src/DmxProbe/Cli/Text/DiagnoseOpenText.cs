using DmxProbe.Analysis.Diagnosis;

namespace DmxProbe.Cli.Text;

/// <summary>What a diagnosis excludes, what it leaves open, and the questions to a person.</summary>
internal static class DiagnoseOpenText
{
    private const int MostQuestions = 5;
    private const int MostNamed = 4;
    private const int MostOpen = 3;

    /// <summary>Writes what is excluded and what cannot be.</summary>
    public static void Write(TextPage page, DiagnosisResult result, bool all)
    {
        if (result.Excluded.Count > 0)
        {
            page.Blank();
            page.Heading($"Excluded ({Figures.Count(result.Excluded.Count)})");
            foreach (IGrouping<CauseGroup, CauseReport> group in result.Excluded.GroupBy(report => report.Cause.Card.Group))
            {
                if (all)
                {
                    foreach (CauseReport report in group)
                    {
                        page.Paragraph($"{report.Cause.Name}: {Figures.Ended(report.Text)}", indent: 2);
                    }
                }
                else
                {
                    page.Labelled(DiagnoseWords.Word(group.Key), Some(group, MostNamed, all), DiagnoseWords.LabelWidth);
                }
            }
        }

        if (result.CannotTell.Count > 0)
        {
            page.Blank();
            page.Heading($"Cannot be excluded with these inputs ({Figures.Count(result.CannotTell.Count)})");
            foreach (string sentence in CannotTell(result, all))
            {
                page.Paragraph(sentence, indent: 2);
            }
        }
    }

    /// <summary>What cannot be excluded, a sentence for each input that would tell.</summary>
    public static IEnumerable<string> CannotTell(DiagnosisResult result, bool all = false) => result.CannotTell
        .GroupBy(report => report.Missing)
        .OrderByDescending(group => group.Key != CauseInputs.Person)
        .ThenByDescending(group => group.Count())
        .Select(missing => $"{Figures.Capital(DiagnosisNarrator.Words(missing.Key))} would tell {Figures.Count(missing.Count())}{PersonOnly(missing)}: {Some(missing, MostOpen, all)}");

    // A look tells also what a capture could have shown and did not.
    private static string PersonOnly(IGrouping<CauseInputs, CauseReport> missing) =>
        missing.Key == CauseInputs.Person && missing.Count(report => report.Cause is PersonCause) is int only && only < missing.Count()
            ? $", {Figures.Count(only)} of which no capture can show" : "";

    /// <summary>Writes what only a person can see.</summary>
    public static void Questions(TextPage page, DiagnoseRun run, bool all, HashSet<string> told)
    {
        // Nobody complains: nothing to ask.
        if (run.Result.Questions.Count == 0 || (run.Case.Bad.Count == 0 && run.Case.Said.Length == 0 && !all))
        {
            return;
        }

        page.Blank();
        DiagnosisQuestion[] fitting = [.. run.Result.Questions.Where(question => question.FitsWhatWasSaid)];
        DiagnosisQuestion[] others = [.. run.Result.Questions.Where(question => !question.FitsWhatWasSaid)];
        if (fitting.Length > 0)
        {
            page.Heading("Only a person can see, and it fits what was said; cheapest first");
            Ask(page, fitting, all, told);
            if (others.Length == 0)
            {
                return;
            }

            page.Blank();
        }

        page.Heading(fitting.Length > 0 ? "The rest that only a person can see, cheapest first" : "Only a person can see, cheapest first");
        Ask(page, others, all, told);
    }

    private static void Ask(TextPage page, DiagnosisQuestion[] questions, bool all, HashSet<string> told)
    {
        foreach (DiagnosisQuestion question in questions.Take(all ? int.MaxValue : MostQuestions))
        {
            page.Labelled(DiagnoseWords.Seconds(question.Check.Seconds), $"{question.Check.Text} ({(question.Check.Ladder ? "ladder; " : "")}{string.Join(", ", question.Causes.Select(id => AllCauses.Find(id)?.Name ?? id))})", DiagnoseWords.LabelWidth);
        }

        DiagnoseWords.Rest(page, questions.Length - MostQuestions, all);

        // What to mind before those shown, unless the answer has said it already.
        foreach (string caution in questions.Take(all ? int.MaxValue : MostQuestions).SelectMany(question => question.Causes).SelectMany(id => AllCauses.Find(id)?.Card.Cautions ?? []).Where(told.Add))
        {
            page.Labelled("Mind", caution, DiagnoseWords.LabelWidth);
        }
    }

    // The likeliest for what was said first, then the most frequent ones; the others counted.
    private static string Some(IEnumerable<CauseReport> reports, int most, bool all)
    {
        CauseReport[] order = [.. reports];
        int shown = all || order.Length <= most + 1 ? order.Length : most;
        return string.Join("; ", order.Take(shown).Select(report => report.Cause.Name)) + (shown < order.Length ? $"; and {order.Length - shown} more." : ".");
    }
}
