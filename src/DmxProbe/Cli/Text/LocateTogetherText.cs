using System.Globalization;

using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>locate --units</c> as text: what the units have in common, then each in a table, then what to do for each that is off.</summary>
internal static class LocateTogetherText
{
    private const int LabelWidth = 10;

    /// <summary>Writes the answer.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="run">The run.</param>
    /// <param name="sheet">What was recognised in the sheet; null where the program brings it along.</param>
    public static void Write(TextPage page, LocateTogetherRun run, PatchRecognition? sheet)
    {
        page.Paragraph(Summary(run), tone: run.ExitCode == ExitCode.Clean ? Tone.Good : Tone.Fault);
        foreach (RowStatement statement in run.Statements)
        {
            page.Blank();
            page.Paragraph(statement.Sentence);
            page.Labelled("Do", statement.Action, LabelWidth);
        }

        page.Blank();
        page.Table(["unit", "sheet", "reads", "how sure", "alone"], new HashSet<int>(), run.Result.Units.Select((unit, i) => Row(unit, run.Cases[i])));
        foreach (LocateAnswer answer in run.Answers.Where(answer => !answer.AsTheSheetSays))
        {
            page.Blank();
            page.Paragraph(answer.Sentence);
            if (answer.Action.Length > 0)
            {
                page.Labelled("Do", answer.Action, LabelWidth);
            }

            page.Labelled(answer.IsClaim ? "Confirm" : "Next", answer.NextStep, LabelWidth);
        }

        page.Blank();
        page.Labelled("Mind", RowNarrator.Caution, LabelWidth);
        foreach (string left in run.LeftOut)
        {
            page.Labelled("Left out", left, LabelWidth);
        }

        if (run.Result.ClockShiftSeconds != 0)
        {
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"the clock of all regions moved by {run.Result.ClockShiftSeconds:+0.0;-0.0} s, where the clearest of them fits best"), indent: 2);
        }

        if (sheet is not null)
        {
            page.Paragraph("sheet read as: " + RecognitionText.InOneLine(sheet), indent: 2);
        }
    }

    private static string Summary(LocateTogetherRun run)
    {
        int units = run.Answers.Count;
        int asSheet = run.Answers.Count(answer => answer.AsTheSheetSays);
        int off = run.Answers.Count(answer => answer.IsClaim && !answer.AsTheSheetSays);
        return string.Create(CultureInfo.InvariantCulture, $"{units} unit{(units == 1 ? "" : "s")}: {asSheet} as the sheet says, {off} elsewhere, {units - asSheet - off} open.");
    }

    private static string[] Row(RowUnit unit, LocateCase about)
    {
        string reads = unit.Result.Claim switch
        {
            LocateClaim.Found or LocateClaim.Class => string.Join(" or ", unit.Result.ClassMembers.Take(3).Select(member => RowNarrator.Where(member, about))) + (unit.Result.ClassMembers.Count > 3 ? " or ..." : ""),
            LocateClaim.OneOf => "one of " + string.Join(", ", unit.Result.Candidates.Take(3).Select(member => RowNarrator.Where(member, about))) + (unit.Result.Candidates.Count > 3 ? ", ..." : ""),
            LocateClaim.NothingExplains => "nothing captured explains it",
            _ => "open",
        };
        string sure = unit.Result.Claim is LocateClaim.Found or LocateClaim.Class or LocateClaim.OneOf
            ? string.Create(CultureInfo.InvariantCulture, $"{unit.Result.Confidence:0.000}") : "";
        string alone = unit.Alone.Claim == unit.Result.Claim ? "the same" : "open";
        return [about.Unit.Unit, string.Create(CultureInfo.InvariantCulture, $"{about.Unit.Universe}.{about.Unit.Address:000}"), reads, sure, alone];
    }
}
