using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>The survey as text: the answer in one sentence, then what shows it, then tables.</summary>
internal static class SurveyText
{
    private const int MostUniverses = 24;
    private const string InputCut = "input-cut";

    /// <summary>Writes a survey.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="survey">What was found.</param>
    /// <param name="zone">The zone to print times in.</param>
    /// <param name="all">Lists at full length.</param>
    public static void Write(TextPage page, SurveySnapshot survey, TimeZoneInfo zone, bool all)
    {
        WallClock clock = new(zone, survey.First, survey.Last);
        Finding? said = Headline(page, survey, clock);
        FindingText.Write(page, survey.Findings, clock, all, said);
        Universes(page, survey, clock, all);
        LineText.Write(page, survey);
        SurveyExtrasText.Write(page, survey, clock, all);
        Footer(page, survey);
    }

    // Gives back the finding that it says.
    private static Finding? Headline(TextPage page, SurveySnapshot survey, WallClock clock)
    {
        Finding? worst = survey.Findings.Count > 0 ? survey.Findings[0] : null;
        string covered = survey.First is not Timestamp from || survey.Last is not Timestamp to ? "in an input without records"
            : survey.Universes.Count > 0 ? $"in {SurveyContents.Of(survey)} {Over(from, to)}"
            : $"{Over(from, to)}: {SurveyContents.Of(survey)}";
        if (worst is not null && worst.Severity != Severity.Info)
        {
            page.Paragraph(worst.Text, tone: worst.Severity == Severity.Fault ? Tone.Fault : Tone.Warning);
            if (worst.Id != InputCut)
            {
                CutText.Write(page, survey);
            }

            page.Paragraph($"{FindingText.Counts(survey.Findings)} {covered}.");
            return worst;
        }

        if (survey.Universes.Count == 0)
        {
            long records = survey.Inputs.Sum(input => input.Records);
            page.Paragraph(
                records == 0 ? "There is nothing in this input: no records." : "No levels in this input: no ArtDmx packet and no sACN data packet.",
                tone: Tone.Warning);
            page.Paragraph($"{Figures.Count(records, "record")} {covered}.");
            return null;
        }

        page.Paragraph($"Nothing wrong found {covered}.", tone: Tone.Good);
        return null;

        string Over(Timestamp first, Timestamp last) => $"{Length(first, last)} ({clock.Span(first, last)}){Undated(survey)}";

        // A length of nothing is one packet, or several of one moment.
        string Length(Timestamp first, Timestamp last) => first != last ? $"over {Figures.Time(Figures.Between(first, last))}"
            : survey.Inputs.Sum(input => input.Records) == 1 ? "in one packet" : "at one moment";
    }

    // What has no date is on no clock with what has one.
    private static string Undated(SurveySnapshot survey) => survey.Inputs.All(input => input.IsUndated || input.First is null) ? ""
        : string.Concat(survey.Inputs.Where(input => input.IsUndated).Select(input => $", and {Figures.Time(Figures.Between(input.First!.Value, input.Last!.Value))} of {input.Name}, which has no date"));

    private static void Universes(TextPage page, SurveySnapshot survey, WallClock clock, bool all)
    {
        List<UniverseSummary> shown = Shown(survey, all ? int.MaxValue : MostUniverses);
        foreach (UniverseSummary universe in shown)
        {
            page.Blank();
            UniverseText.Write(page, universe, survey, clock, all);
        }

        int left = survey.Universes.Count - shown.Count;
        if (left > 0)
        {
            page.Blank();
            page.Paragraph($"and {Figures.Count(left, "more universe")} without faults or warnings of their own first in line (--all shows all)");
        }

        if (survey.FramesOfUniversesNotListed > 0 || survey.FramesOfSendersNotListed > 0)
        {
            page.Paragraph(
                $"Beyond what is kept apart (4,096 universes, 4,096 senders): {Figures.Count(survey.FramesOfUniversesNotListed, "frame")} of further universes, {Figures.Count(survey.FramesOfSendersNotListed, "frame")} of further senders.");
        }
    }

    // With too many universes to print, those that a fault or a warning names come first; the order stays.
    private static List<UniverseSummary> Shown(SurveySnapshot survey, int most)
    {
        if (survey.Universes.Count <= most)
        {
            return [.. survey.Universes];
        }

        HashSet<string> blamed = [.. survey.Findings.Where(finding => finding.Severity != Severity.Info).Select(finding => finding.Subject)];
        HashSet<UniverseSummary> kept =
        [
            .. survey.Universes.OrderBy(universe => blamed.Contains(universe.Id.Label) ? 0 : 1).Take(most),
        ];
        return [.. survey.Universes.Where(kept.Contains)];
    }

    private static void Footer(TextPage page, SurveySnapshot survey)
    {
        if (survey.Universes.Count == 0)
        {
            return;
        }

        Duration coarsest = Duration.Zero;
        foreach (CaptureInterface face in survey.Inputs.SelectMany(input => input.Interfaces))
        {
            coarsest = face.Resolution > coarsest ? face.Resolution : coarsest;
        }

        bool hasNetwork = survey.Universes.Any(universe => universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet);
        if (!hasNetwork)
        {
            page.Blank();
            page.Paragraph(survey.Lines.Count > 0
                ? "All figures: from the line itself. A frame's time is the start of its break. Break, mark after break and the other times: dmxprobe timing."
                : "All figures: as the serial interface hands packets over; a frame's time is when they were read, in lumps of up to 16 ms. Break, mark after break and bit times are not measurable on this input.");
            return;
        }

        string resolution = coarsest > Duration.Zero ? $"; the capture's clock steps by {Figures.Time(coarsest)}" : "";
        page.Blank();
        page.Paragraph(
            $"All figures: arrival on the network at the capture point{resolution}. Rates are of each sender alone: mean rate over all the time it was present, its pauses counted; refresh rate while it runs (frames less than 250 ms apart), as timing has it; changed: frames with other levels, over all the time. The DMX line itself (break, mark after break) is not measurable in a network capture.");
    }
}
