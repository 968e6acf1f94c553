using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>locate</c> as text: the sentence, what to do, the confirming look, then the evidence.</summary>
internal static class LocateText
{
    private const int LabelWidth = 10;

    /// <summary>Writes the answer.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="run">The run.</param>
    /// <param name="sheet">What was recognised in the sheet; null where the program brings it along.</param>
    public static void Write(TextPage page, LocateRun run, PatchRecognition? sheet = null)
    {
        LocateAnswer answer = run.Answer;
        page.Paragraph(answer.Sentence, tone: answer.AsTheSheetSays ? Tone.Good : Tone.Fault);
        CutText.Write(page, run.Survey);
        if (answer.FurtherExplanation is { Length: > 0 } explanation)
        {
            page.Paragraph(explanation);
        }

        page.Blank();
        if (answer.Action.Length > 0)
        {
            page.Labelled("Do", answer.Action, LabelWidth);
        }

        bool claims = answer.IsClaim;
        page.Labelled(claims && run.Session?.End == AskEnd.Confirmed ? "Confirmed" : claims ? "Confirm" : "Next", answer.NextStep, LabelWidth);
        foreach (string caution in answer.Cautions)
        {
            page.Labelled("Mind", caution, LabelWidth);
        }

        page.Blank();
        page.Heading("Evidence");
        foreach (string line in answer.Evidence)
        {
            page.Paragraph(line, indent: 2);
        }

        page.Paragraph("taken as: " + Map(run), indent: 2);
        if (sheet is not null)
        {
            page.Paragraph("sheet read as: " + RecognitionText.InOneLine(sheet), indent: 2);
        }

        double shift = run.Result.ClockShiftSeconds;
        string clock = shift == 0 ? "the trace's own clock and scale" : string.Create(
            CultureInfo.InvariantCulture, $"the trace's own scale, its clock moved by {shift:+0.0;-0.0} s, where it fits best");
        page.Paragraph("levels: " + Places(run) + (run.About.Question.Trace is null ? "" : "; light: " + clock), indent: 2);
    }

    // Where the levels were measured that the light was compared with, in the words that timing has for it.
    private static string Places(LocateRun run)
    {
        UniverseId[] wires = [.. run.About.Sheet.Universes.Where(run.Map.Wire.ContainsKey).Select(sheet => run.Map.Wire[sheet])];
        string[] places = [.. run.Survey.Universes
            .Where(universe => wires.Contains(universe.Id))
            .SelectMany(universe => universe.Streams.Select(stream => stream.Sender.MeasuredAt))
            .Distinct()
            .Select(TimingText.At)];
        return string.Join(" and ", places.DefaultIfEmpty("of universes that are not in the capture"));
    }

    private static string Map(LocateRun run) => string.Join(
        "; ",
        run.About.Sheet.Universes.Select(sheet => run.Map.Wire.TryGetValue(sheet, out UniverseId wire)
            ? $"sheet universe {sheet} is {wire.Label}"
            : $"sheet universe {sheet} is not in the capture (--map says which it is)"));
}
