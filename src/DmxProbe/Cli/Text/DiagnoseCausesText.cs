using System.Globalization;

using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Cli.Text;

/// <summary>The causes of a diagnosis with their evidence.</summary>
internal static class DiagnoseCausesText
{
    private const int CauseIndent = DiagnoseWords.LabelWidth + 2;
    private const int MostCauses = 6;
    private const int MostNotes = 5;
    private const int MostEvidence = 3;

    /// <summary>Writes the causes, the one to act on first, and apart from them what else was found.</summary>
    public static void Write(TextPage page, DiagnosisResult result, bool all, WallClock clock, HashSet<string> told)
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

            DiagnoseWords.Rest(page, causes.Length - MostCauses, all);
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

            DiagnoseWords.Rest(page, elsewhere.Length - MostNotes, all);
        }

        if (notes.Length > 0)
        {
            page.Blank();
            page.Heading("Also seen, no fault by itself");
            foreach (CauseReport report in notes.Take(all ? int.MaxValue : MostNotes))
            {
                page.Paragraph(Figures.Ended(report.Text), indent: 2);
            }

            DiagnoseWords.Rest(page, notes.Length - MostNotes, all);
        }
    }

    // The answer begins a text with a capital, and may end it otherwise.
    private static bool Holds(string sentence, string text) => text.Length < 2 || sentence.Contains(text[1..].TrimEnd('.'), StringComparison.Ordinal);

    private static void Cause(TextPage page, CauseReport report, WallClock clock, bool isFirst, bool isTold, HashSet<string> told)
    {
        // What the answer already said is not said again.
        page.Labelled(DiagnoseWords.Word(report.State), isTold ? Figures.Ended(report.Cause.Name) + Reason(report) : $"{report.Cause.Name}: {Figures.Ended(report.Text)}{Follows(report)}{Reason(report)}", DiagnoseWords.LabelWidth, tone: report.Severity == Severity.Fault ? Tone.Fault : Tone.Warning);
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
            page.Paragraph("Do: " + Figures.Capital(report.WhatToDo), CauseIndent);
            foreach (string caution in report.WhatToMind.Where(told.Add))
            {
                page.Paragraph("Mind: " + caution, CauseIndent);
            }
        }
    }

    private static string Reason(CauseReport report) => report.Reason is { } reason ? $" Likely reason: {Figures.Ended(reason.Text)}" : "";

    private static string Follows(CauseReport report) =>
        report.FollowsFrom.Length == 0 ? "" : $" It follows from: {AllCauses.Find(report.FollowsFrom)?.Name ?? report.FollowsFrom}.";

    private static string Seen(CauseEvidence evidence, WallClock clock)
    {
        string when = (evidence.From, evidence.To) switch
        {
            ({ } from, { } to) when DiagnoseWords.IsUndated(from) && from != to => string.Create(CultureInfo.InvariantCulture, $"{from.UnixNanoseconds / 1e9:0.000} s to {to.UnixNanoseconds / 1e9:0.000} s of the recording"),
            ({ } from, _) when DiagnoseWords.IsUndated(from) => string.Create(CultureInfo.InvariantCulture, $"at {from.UnixNanoseconds / 1e9:0.000} s of the recording"),
            ({ } from, { } to) when from != default && to != default && from != to => $"{clock.Time(from)} to {clock.Time(to)}",
            ({ } from, _) when from != default => "at " + clock.Time(from),
            _ => "",
        };
        string record = evidence.FirstRecord > 0 ? "first in record " + Figures.Count(evidence.FirstRecord) : "";
        string place = string.Join(", ", new[] { when, record }.Where(part => part.Length > 0));
        return place.Length == 0 ? "" : "seen " + place;
    }
}
