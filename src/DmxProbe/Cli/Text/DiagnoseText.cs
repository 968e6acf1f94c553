using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>A diagnosis as text: the sentence, what to do and to check, then the fork, the causes, what is excluded and what is open.</summary>
internal static class DiagnoseText
{
    private const int LabelWidth = 10;
    private const int CauseIndent = LabelWidth + 2;
    private const int MostCauses = 6;
    private const int MostNotes = 5;
    private const int MostForks = 8;
    private const int MostQuestions = 5;
    private const int MostNamed = 4;
    private const int MostMoments = 4;
    private const int MostEvidence = 3;
    private const int MostOpen = 3;

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
        Causes(page, run.Result, all, clock, told);
        Shared(page, run.Result, clock);
        Open(page, run.Result, all);
        Questions(page, run, all, told);
        Taken(page, run, sheet?.Recognition);
    }

    /// <summary>Writes the sentence, the fork and the causes by name; the command has the whole.</summary>
    public static void Short(TextPage page, DiagnoseRun run)
    {
        page.Paragraph(Figures.Ended(run.Result.Sentence), tone: Tone.Fault);
        foreach (ForkAnswer fork in run.Result.Forks)
        {
            page.Labelled("Wire", fork.Text, LabelWidth);
        }

        foreach (CauseReport report in run.Result.Ranked.Where(report => report.Severity != Severity.Info && report.ReasonOf.Length == 0))
        {
            page.Labelled(report.TouchesBad == false ? "elsewhere" : Word(report.State), $"{report.Cause.Name}{(report.Subject.Length > 0 ? ": " + report.Subject : "")}", LabelWidth);
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
            page.Labelled("Do", (result.Safety.Length > 0 ? "Once it is safe: " : "") + Capital(first.WhatToDo), LabelWidth);
        }

        if (result.Next is { } next)
        {
            page.Labelled("Check", $"{next.Text} (about {Seconds(next.Seconds)}{(next.Ladder ? ", with a ladder" : "")})", LabelWidth);
        }

        foreach (string caution in result.Cautions)
        {
            page.Labelled("Mind", caution, LabelWidth);
        }

        if (result.Symptom is { } symptom)
        {
            page.Labelled("Said", $"\"{run.Case.Said}\": {symptom.FirstTest}", LabelWidth);
        }
        else if (run.Case.Said.Length > 0)
        {
            page.Labelled("Said", $"\"{run.Case.Said}\": no entry of the symptom index fits these words; the order does not use them.", LabelWidth);
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
            page.Labelled(Word(same.Key), Figures.Ended(forks[0].Text) + others, LabelWidth, tone: same.Key == FirstFork.Carries ? Tone.Plain : Tone.Warning);
        }
    }

    private static void Causes(TextPage page, DiagnosisResult result, bool all, WallClock clock, HashSet<string> told)
    {
        CauseReport[] causes = [.. result.Ranked.Where(report => report.Severity != Severity.Info && report.TouchesBad != false && report.ReasonOf.Length == 0 && (report.Cause.Card.Group != CauseGroup.Capture || report == result.First))];
        CauseReport[] capture = [.. result.Ranked.Where(report => report.Severity != Severity.Info && report.Cause.Card.Group == CauseGroup.Capture && report != result.First)];
        CauseReport[] elsewhere = [.. result.Ranked.Where(report => report.Severity != Severity.Info && report.TouchesBad == false && report.ReasonOf.Length == 0)];
        CauseReport[] notes = [.. result.Ranked.Where(report => report.Severity == Severity.Info)];
        if (causes.Length > 0)
        {
            page.Blank();
            page.Heading("Causes, the one to act on first");
            foreach (CauseReport report in causes.Take(all ? int.MaxValue : MostCauses))
            {
                Cause(page, report, clock, isFirst: report == result.First, isTold: report == result.First && Holds(result.Sentence, report.Text), told);
            }

            Rest(page, causes.Length - MostCauses, all);
        }

        if (capture.Length > 0)
        {
            page.Blank();
            page.Heading("The capture itself");
            foreach (CauseReport report in capture)
            {
                page.Paragraph($"{Figures.Ended(report.Text)} {report.WhatToDo}", indent: 2);
            }
        }

        // Without their "do": nobody is to silence a sender for a unit that does not hear it.
        if (elsewhere.Length > 0)
        {
            page.Blank();
            page.Heading("Faults elsewhere on the rig, not what is wrong here");
            foreach (CauseReport report in elsewhere.Take(all ? int.MaxValue : MostNotes))
            {
                page.Paragraph(Figures.Ended(report.Text) + Reason(report), indent: 2);
            }

            Rest(page, elsewhere.Length - MostNotes, all);
        }

        if (notes.Length > 0)
        {
            page.Blank();
            page.Heading("Also seen, no fault by itself");
            foreach (CauseReport report in notes.Take(all ? int.MaxValue : MostNotes))
            {
                page.Paragraph(Figures.Ended(report.Text), indent: 2);
            }

            Rest(page, notes.Length - MostNotes, all);
        }
    }

    // The answer begins a text with a capital, and may end it otherwise.
    private static bool Holds(string sentence, string text) => text.Length < 2 || sentence.Contains(text[1..].TrimEnd('.'), StringComparison.Ordinal);

    private static void Cause(TextPage page, CauseReport report, WallClock clock, bool isFirst, bool isTold, HashSet<string> told)
    {
        // What the answer already said is not said again.
        page.Labelled(Word(report.State), isTold ? Figures.Ended(report.Cause.Name) + Reason(report) : $"{report.Cause.Name}: {Figures.Ended(report.Text)}{Follows(report)}{Reason(report)}", LabelWidth, tone: report.Severity == Severity.Fault ? Tone.Fault : Tone.Warning);
        foreach (CauseEvidence evidence in report.Evidence.Take(isFirst ? MostEvidence : 1))
        {
            string figures = string.Join("; ", new[] { evidence.Measured, evidence.Limit.Length == 0 ? "" : "limit " + evidence.Limit }.Where(part => part.Length > 0));
            figures = evidence.LimitSource.Length == 0 || figures.Length == 0 ? figures : $"{figures} ({evidence.LimitSource})";
            string seen = Seen(evidence, clock);
            string text = evidence.Text == report.Text ? "" : evidence.Text;
            foreach (string part in new[] { text, text.Contains(figures, StringComparison.Ordinal) ? "" : figures, seen }.Where(part => part.Length > 0))
            {
                page.Paragraph(part, CauseIndent);
            }
        }

        if (!isFirst || report.State == CauseState.Possible)
        {
            page.Paragraph("Do: " + Capital(report.WhatToDo), CauseIndent);
            foreach (string caution in report.WhatToMind.Where(told.Add))
            {
                page.Paragraph("Mind: " + caution, CauseIndent);
            }
        }
    }

    private static string Reason(CauseReport report) => report.Reason is { } reason ? $" Likely reason: {Figures.Ended(reason.Text)}" : "";

    private static string Follows(CauseReport report) =>
        report.FollowsFrom.Length == 0 ? "" : $" It follows from: {AllCauses.Find(report.FollowsFrom)?.Name ?? report.FollowsFrom}.";

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
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"They are {group.Text}{(group.At is { } at ? ", at " + Moment(at, clock) : "")} ({group.Units.Count} units; tells good from bad to {group.Gain * 100:0} %)."), indent: 2);
            foreach (WireMoment moment in group.Then.Take(MostMoments))
            {
                page.Paragraph($"On the wire at {Moment(moment.Time, clock)}: {moment.Text}.", indent: 4);
            }

            // The same units under another name: one check is enough.
            bool isTold = result.Groups.TakeWhile(other => other != group).Any(other => other.Units.ToHashSet().SetEquals(group.Units));
            if (!isTold && group.Check is { } check && check != result.Next)
            {
                page.Paragraph("Check: " + check.Text, indent: 4);
            }
        }
    }

    private static void Open(TextPage page, DiagnosisResult result, bool all)
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
                    page.Labelled(Word(group.Key), Some(group, MostNamed, all), LabelWidth);
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
        .Select(missing => $"{Capital(DiagnosisNarrator.Words(missing.Key))} would tell {Figures.Count(missing.Count())}{PersonOnly(missing)}: {Some(missing, MostOpen, all)}");

    // A look tells also what a capture could have shown and did not.
    private static string PersonOnly(IGrouping<CauseInputs, CauseReport> missing) =>
        missing.Key == CauseInputs.Person && missing.Count(report => report.Cause is PersonCause) is int only && only < missing.Count()
            ? $", {Figures.Count(only)} of which no capture can show" : "";

    private static string Capital(string words) => words.Length > 0 ? char.ToUpperInvariant(words[0]) + words[1..] : words;

    private static void Questions(TextPage page, DiagnoseRun run, bool all, HashSet<string> told)
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
            page.Labelled(Seconds(question.Check.Seconds), $"{question.Check.Text} ({(question.Check.Ladder ? "ladder; " : "")}{string.Join(", ", question.Causes.Select(id => AllCauses.Find(id)?.Name ?? id))})", LabelWidth);
        }

        Rest(page, questions.Length - MostQuestions, all);

        // What to mind before those shown, unless the answer has said it already.
        foreach (string caution in questions.Take(all ? int.MaxValue : MostQuestions).SelectMany(question => question.Causes).SelectMany(id => AllCauses.Find(id)?.Card.Cautions ?? []).Where(told.Add))
        {
            page.Labelled("Mind", caution, LabelWidth);
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

    // The likeliest for what was said first, then the most frequent ones; the others counted.
    private static string Some(IEnumerable<CauseReport> reports, int most, bool all)
    {
        CauseReport[] order = [.. reports];
        int shown = all || order.Length <= most + 1 ? order.Length : most;
        return string.Join("; ", order.Take(shown).Select(report => report.Cause.Name)) + (shown < order.Length ? $"; and {order.Length - shown} more." : ".");
    }

    private static void Rest(TextPage page, int left, bool all)
    {
        if (!all && left > 0)
        {
            page.Paragraph($"and {Figures.Count(left)} more (--all shows all)", indent: 2);
        }
    }

    private static string Seen(CauseEvidence evidence, WallClock clock)
    {
        string when = (evidence.From, evidence.To) switch
        {
            ({ } from, { } to) when IsUndated(from) && from != to => string.Create(CultureInfo.InvariantCulture, $"{from.UnixNanoseconds / 1e9:0.000} s to {to.UnixNanoseconds / 1e9:0.000} s of the recording"),
            ({ } from, _) when IsUndated(from) => string.Create(CultureInfo.InvariantCulture, $"at {from.UnixNanoseconds / 1e9:0.000} s of the recording"),
            ({ } from, { } to) when from != default && to != default && from != to => $"{clock.Time(from)} to {clock.Time(to)}",
            ({ } from, _) when from != default => "at " + clock.Time(from),
            _ => "",
        };
        string record = evidence.FirstRecord > 0 ? "first in record " + Figures.Count(evidence.FirstRecord) : "";
        string place = string.Join(", ", new[] { when, record }.Where(part => part.Length > 0));
        return place.Length == 0 ? "" : "seen " + place;
    }

    private static string Moment(Timestamp time, WallClock clock) =>
        IsUndated(time) ? string.Create(CultureInfo.InvariantCulture, $"{time.UnixNanoseconds / 1e9:0.000} s of the recording") : clock.Time(time);

    /// <summary>Whether a moment is of a line recording that does not say when it was made: it counts from 0.</summary>
    internal static bool IsUndated(Timestamp moment) => moment != default && WallClock.IsUndated(moment);

    private static string Seconds(int seconds) => seconds < 120 ? $"{seconds} s" : $"{seconds / 60} min";

    private static string Word(FirstFork fork) => fork switch
    {
        FirstFork.Carries => "yes",
        FirstFork.StandsStill => "still",
        FirstFork.NotSent => "no",
        FirstFork.Contested => "disputed",
        _ => "unknown",
    };

    private static string Word(CauseState state) => state switch
    {
        CauseState.Proven => "proven",
        CauseState.Likely => "likely",
        CauseState.Possible => "possible",
        CauseState.Excluded => "excluded",
        _ => "open",
    };

    private static string Word(CauseGroup group) => group switch
    {
        CauseGroup.Addressing => "address",
        CauseGroup.UnitState => "unit",
        CauseGroup.LineTiming => "line",
        _ => group.ToString().ToLowerInvariant(),
    };
}
