using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Demo;

namespace DmxProbe.Cli.Text;

/// <summary>The demo's own check, as text.</summary>
internal static class DemoText
{
    /// <summary>Writes what is wrong in the hall, all of it in a sentence.</summary>
    public static void InShort(TextPage page, SurveySnapshot survey, LocateRun located, TimedInput line)
    {
        string[] wrong =
        [
            .. survey.Findings.Where(finding => finding.Severity == Severity.Fault).Select(FindingText.Name),
            .. located.Answer.AsTheSheetSays ? (string[])[] : [located.Answer.Sentence.TrimEnd('.')],
            .. line.Figures.Where(TimingText.IsOutside).Select(figure => $"the {TimingText.QuantityWords(figure.Quantity)} of {figure.Subject} is outside its limits"),
        ];
        page.Paragraph(wrong.Length == 0 ? "In short: nothing is wrong." : $"In short: {string.Join("; ", wrong)}.", tone: Tone.Strong);
    }

    /// <summary>Writes each question with its answer.</summary>
    public static void Write(TextPage page, IReadOnlyList<DemoAnswer> answers)
    {
        page.Blank();
        page.Heading($"The demo checks itself: {answers.Count(answer => answer.Reproduced)} of {answers.Count} answers as built in");
        foreach (DemoAnswer answer in answers)
        {
            page.Paragraph(
                answer.Reproduced ? $"{answer.Question} {answer.Found}." : $"{answer.Question} {answer.Found}; expected: {answer.Expected}.",
                indent: 2,
                tone: answer.Reproduced ? Tone.Plain : Tone.Fault);
        }
    }
}
