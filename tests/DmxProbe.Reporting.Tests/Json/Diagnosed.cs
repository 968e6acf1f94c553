using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>A case with every kind of answer.</summary>
internal static class Diagnosed
{
    /// <summary>Three bad units of a chain of six, of a universe that nobody sends; they stopped moving at the mark of the survey.</summary>
    public static DiagnosisCase Case()
    {
        PatchSheet sheet = new([.. Enumerable.Range(1, 6).Select(n => new PatchUnit($"U{n}", "x", "m", 9, n, "", "left", "", [], "", n) { ChainOrder = n })]);
        SurveySnapshot survey = FullSurvey.With();
        Timestamp mark = survey.Marks[0].Time;
        return new DiagnosisCase(survey, [.. sheet.Units.Select(unit => new UnitActivity { Watched = new WatchedUnit(unit, null, 1) }).Select((unit, index) => index < 3 ? unit : unit with
        {
            Slots = [new SlotActivity(9, 0, 9, 5, 0)],
            First = survey.First!.Value,
            Last = survey.Last!.Value,
            LastChange = mark,
        })])
        {
            Sheet = sheet,
            Charts = new ChartSet([]),
            SheetFindings = PatchCheck.Check(sheet, new ChartSet([])),
            Wire = new Dictionary<int, UniverseId> { [1] = new UniverseId(UniverseProtocol.Sacn, 1) },
            Bad = ["U4", "U5", "U6"],
            Said = "they flicker",
        };
    }
}
