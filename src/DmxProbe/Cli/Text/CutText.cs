using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Text;

/// <summary>That a capture is not whole, said beside the answer: an answer about half a capture reads like one about all of it.</summary>
internal static class CutText
{
    /// <summary>Writes a sentence for each input that ends early; nothing where all are whole.</summary>
    public static void Write(TextPage page, SurveySnapshot? survey)
    {
        foreach (InputSummary input in (survey?.Inputs ?? []).Where(input => input.Cut is not null))
        {
            page.Paragraph($"{input.Name} ends early, so nothing is said of what came after: {input.Cut}.", tone: Tone.Fault);
        }
    }
}
