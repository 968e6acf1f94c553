using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>A diagnosis as text: the sentence, what to do and to check, then the fork, the causes, what is excluded and what is open.</summary>
internal static class DiagnoseText
{
    private const int MostForks = 8;
    private const int MostMoments = 4;

    /// <summary>Writes the answer.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="run">The run.</param>
    /// <param name="sheet">The sheet; null where there is none.</param>
    /// <param name="all">Lists at full length.</param>
    /// <param name="clock">Prints moments.</param>
    public static void Write(TextPage page, DiagnoseRun run, SheetInUse? sheet, bool all, WallClock clock)
    {
        InShort(page, run);
        Forks(page, run.Result, all);
        HashSet<string> told = [.. run.Result.Cautions];
        DiagnoseCausesText.Write(page, run.Result, all, clock, told);
        Shared(page, run.Result, clock);
        DiagnoseOpenText.Write(page, run.Result, all);
        DiagnoseOpenText.Questions(page, run, all, told);
        Taken(page, run, sheet?.Recognition);
    }

    /// <summary>Writes the sentence, the fork and the causes by name; the command has the whole.</summary>
    public static void Short(TextPage page, DiagnoseRun run)
    {
        page.Paragraph(Figures.Ended(run.Result.Sentence), tone: Tone.Fault);
        foreach (ForkAnswer fork in run.Result.Forks)
        {
            page.Labelled("Wire", fork.Text, DiagnoseWords.LabelWidth);
        }

        foreach (CauseReport report in run.Result.Ranked.Where(report => report.Severity != Severity.Info && report.ReasonOf.Length == 0))
        {
            page.Labelled(report.TouchesBad == false ? "elsewhere" : DiagnoseWords.Word(report.State), $"{report.Cause.Name}{(report.Subject.Length > 0 ? ": " + report.Subject : "")}", DiagnoseWords.LabelWidth);
        }

        page.Paragraph($"{Figures.Count(run.Result.Excluded.Count)} causes are excluded, {Figures.Count(run.Result.CannotTell.Count)} cannot be with these inputs.", indent: 2);
    }

    /// <summary>Writes the sentence with what to do, what to check and what to mind.</summary>
    public static void InShort(TextPage page, DiagnoseRun run)
    {
        DiagnosisResult result = run.Result;
        CauseReport? first = result.First;
        bool isAboutFirst = first is not null && (run.Case.Bad.Count == 0 || first.Severity == Severity.Fault || first.TouchesBad == true);
        string sentence = result.Sentence;
        if (result.Safety.Length > 0)
        {
            page.Paragraph(result.Safety, tone: Tone.Fault);
            page.Blank();
            sentence = sentence[result.Safety.Length..].TrimStart();
        }

        page.Paragraph(Figures.Ended(sentence), tone: first is null && run.Case is { Bad.Count: 0, IsTooShort: false } ? Tone.Good : isAboutFirst && first!.Severity == Severity.Fault ? Tone.Fault : Tone.Warning);
        if (first is not null || result.Next is not null || run.Case.Said.Length > 0)
        {
            page.Blank();
        }

        if (isAboutFirst && first is { State: CauseState.Proven or CauseState.Likely })
        {
            page.Labelled("Do", (result.Safety.Length > 0 ? "Once it is safe: " : "") + Figures.Capital(first.WhatToDo), DiagnoseWords.LabelWidth);
        }

        if (result.Next is { } next)
        {
            page.Labelled("Check", $"{next.Text} (about {DiagnoseWords.Seconds(next.Seconds)}{(next.Ladder ? ", with a ladder" : "")})", DiagnoseWords.LabelWidth);
        }

        foreach (string caution in result.Cautions)
        {
            page.Labelled("Mind", caution, DiagnoseWords.LabelWidth);
        }

        if (result.Symptom is { } symptom)
        {
            page.Labelled("Said", $"\"{run.Case.Said}\": {symptom.FirstTest}", DiagnoseWords.LabelWidth);
        }
        else if (run.Case.Said.Length > 0)
        {
            page.Labelled("Said", $"\"{run.Case.Said}\": no entry of the symptom index fits these words; the order does not use them.", DiagnoseWords.LabelWidth);
        }
    }

    private static void Forks(TextPage page, DiagnosisResult result, bool all)
    {
        if (result.Forks.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("First: does the wire carry it?");
        // What holds for several alike is said once.
        foreach (IGrouping<FirstFork, ForkAnswer> same in result.Forks.GroupBy(fork => fork.Fork))
        {
            ForkAnswer[] forks = [.. same];
            string others = forks.Length == 1 ? "" : $" Likewise {string.Join(", ", forks.Skip(1).Take(all ? int.MaxValue : MostForks).Select(fork => fork.Unit))}{(!all && forks.Length - 1 > MostForks ? $" and {Figures.Count(forks.Length - 1 - MostForks)} more" : "")}.";
            page.Labelled(DiagnoseWords.Word(same.Key), Figures.Ended(forks[0].Text) + others, DiagnoseWords.LabelWidth, tone: same.Key == FirstFork.Carries ? Tone.Plain : Tone.Warning);
        }
    }

    private static void Shared(TextPage page, DiagnosisResult result, WallClock clock)
    {
        if (result.Groups.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("What the bad units share");
        foreach (UnitGroup group in result.Groups.Take(3))
        {
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"They are {group.Text}{(group.At is { } at ? ", at " + DiagnoseWords.Moment(at, clock) : "")} ({group.Units.Count} units; tells good from bad to {group.Gain * 100:0} %)."), indent: 2);
            foreach (WireMoment moment in group.Then.Take(MostMoments))
            {
                page.Paragraph($"On the wire at {DiagnoseWords.Moment(moment.Time, clock)}: {moment.Text}.", indent: 4);
            }

            // The same units under another name: one check is enough.
            bool isTold = result.Groups.TakeWhile(other => other != group).Any(other => other.Units.ToHashSet().SetEquals(group.Units));
            if (!isTold && group.Check is { } check && check != result.Next)
            {
                page.Paragraph("Check: " + check.Text, indent: 4);
            }
        }
    }

    private static void Taken(TextPage page, DiagnoseRun run, PatchRecognition? recognition)
    {
        page.Blank();
        page.Paragraph("judged from: " + DiagnosisNarrator.Words(run.Result.Inputs & ~(CauseInputs.Levels | CauseInputs.TwoTaps)), indent: 2);
        if (run.Case.Taps is { } taps)
        {
            page.Paragraph($"compared: {taps.Near} as the sender's side with {taps.Far} as the receiver's side", indent: 2);
        }

        if (run.Map is { } map && run.Case.Sheet is { } patch && (run.Result.Inputs & CauseInputs.Levels) != 0)
        {
            page.Paragraph("taken as: " + string.Join("; ", patch.Universes.Select(number => map.Wire.TryGetValue(number, out UniverseId wire)
                ? $"sheet universe {number} is {wire.Label}"
                : map.Ambiguous.FirstOrDefault(entry => entry.Sheet == number) is { Choices: { } choices }
                    ? $"sheet universe {number} may be {string.Join(" or ", choices.Select(choice => choice.Label))} (say which with --map)"
                    : $"sheet universe {number} is not in the capture (--map says which it is)")), indent: 2);
        }

        if (recognition is not null)
        {
            page.Paragraph("sheet read as: " + RecognitionText.InOneLine(recognition), indent: 2);
        }
    }
}
