using DmxProbe.Cli.Demo;

namespace DmxProbe.Cli.Text;

/// <summary>The demo's own check, as text.</summary>
internal static class DemoText
{
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
