using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>What a check of a patch sheet found, as text.</summary>
internal static class PatchText
{
    private const int MostFindings = 40;
    private const int LabelWidth = 9;

    /// <summary>Writes the findings.</summary>
    public static void Write(TextPage page, SheetInUse inUse, UniverseMap? map, IReadOnlyList<PatchFinding> findings, RdmSheetResult? rdm, SurveySnapshot? survey, bool all)
    {
        PatchSheet sheet = inUse.Patch;
        string what = $"{Figures.Count(sheet.Units.Count, "unit")} on {Figures.Count(sheet.Universes.Count, "universe")}";
        IReadOnlyList<RdmRemark> remarks = rdm?.Remarks ?? [];
        int faults = findings.Count(finding => finding.Severity == PatchSeverity.Fault) + remarks.Count(remark => remark.Severity == Severity.Fault);
        int warnings = findings.Count(finding => finding.Severity == PatchSeverity.Warning) + remarks.Count(remark => remark.Severity == Severity.Warning);

        // What a device says of itself is proven; what the sheet lacks in this capture may only be a short capture.
        RdmRemark? told = remarks.FirstOrDefault(remark => remark.Severity == Severity.Fault);
        PatchFinding? worst = told is not null ? null
            : findings.FirstOrDefault(finding => finding.Severity == PatchSeverity.Fault) ?? (findings.Count > 0 ? findings[0] : null);
        if (told is null && worst is null && warnings == 0)
        {
            page.Paragraph($"Nothing wrong with this sheet: {what}.", tone: Tone.Good);
        }
        else
        {
            page.Paragraph(told?.Text ?? worst?.Text ?? remarks.First(remark => remark.Severity == Severity.Warning).Text, tone: faults > 0 ? Tone.Fault : Tone.Warning);
            page.Paragraph($"{Figures.Count(faults, "fault")}, {Figures.Count(warnings, "warning")} in {what}{(remarks.Count > 0 ? ", what RDM tells included" : "")}.");
        }

        CutText.Write(page, survey);
        RecognitionText.Write(page, inUse.Recognition, all);
        Map(page, sheet, map, survey);
        RdmText.Sheet(page, rdm, all);
        Dangerous(page, DangerousSlots.Of(sheet, inUse.Charts), all);
        if (findings.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Findings");
        foreach (PatchFinding finding in findings.Take(all ? int.MaxValue : MostFindings))
        {
            bool fault = finding.Severity == PatchSeverity.Fault;
            page.Labelled(fault ? "fault" : "warning", $"line {finding.Line}: {(ReferenceEquals(finding, worst) ? FindingText.Plain(finding.Id) + ", as said above" : finding.Text)}", LabelWidth, tone: fault ? Tone.Fault : Tone.Warning);
            if (finding.Action.Length > 0)
            {
                page.Paragraph("Do: " + finding.Action, LabelWidth + 2);
            }
        }

        if (!all && findings.Count > MostFindings)
        {
            page.Paragraph($"and {Figures.Count(findings.Count - MostFindings)} more (--all shows all)", indent: 2);
        }
    }

    private static void Dangerous(TextPage page, IReadOnlyList<DangerousSlots> dangerous, bool all)
    {
        if (dangerous.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Slots to keep hands off");
        foreach (DangerousSlots slots in dangerous.Take(all ? int.MaxValue : MostFindings))
        {
            page.Paragraph($"{slots.Unit}: {string.Join(", ", slots.Slots.Select(slot => $"{slot.Universe}.{slot.Slot:000} {slot.Function} ({slot.Why})"))}", indent: 2);
        }

        if (!all && dangerous.Count > MostFindings)
        {
            page.Paragraph($"and {Figures.Count(dangerous.Count - MostFindings, "unit")} more (--all shows all)", indent: 2);
        }
    }

    // Which universe of the wire each universe of the sheet was taken to be; nothing without a capture.
    private static void Map(TextPage page, PatchSheet sheet, UniverseMap? map, SurveySnapshot? survey)
    {
        if (map is null)
        {
            return;
        }

        page.Blank();
        page.Heading("Universes of the sheet");
        foreach (int universe in sheet.Universes)
        {
            IReadOnlyList<UniverseId> choices = map.Ambiguous.FirstOrDefault(entry => entry.Sheet == universe).Choices ?? [];
            string wire = map.Wire.TryGetValue(universe, out UniverseId id)
                ? id.Label + Without(id, survey)
                : choices.Count > 0
                    ? $"may be {string.Join(" or ", choices.Select(choice => choice.Label))}: say which with --map"
                    : "not in this capture";
            page.Paragraph($"sheet universe {universe} = {wire}", indent: 2);
        }
    }

    private static string Without(UniverseId id, SurveySnapshot? survey)
    {
        if (survey is null || survey.Universes.Any(universe => universe.Id == id && universe.Streams.Any(stream => stream.LevelFrames > 0)))
        {
            return "";
        }

        return survey.Rdm?.Ports.Any(port => port.Universe == id) == true
            ? ", which carries RDM and no levels in this capture"
            : ", which carries no levels in this capture";
    }
}
