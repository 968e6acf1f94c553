using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Reporting.Json;

/// <summary>The demo as JSON: the fields of a survey, the answer of locate, the figures of a line, and the demo's own check.</summary>
public static class DemoJson
{
    /// <summary>Writes the demo.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="survey">The survey.</param>
    /// <param name="result">What locating found.</param>
    /// <param name="about">What it was about.</param>
    /// <param name="answer">Its answer in words.</param>
    /// <param name="it">What was diagnosed.</param>
    /// <param name="diagnosis">The diagnosis.</param>
    /// <param name="line">What was measured on the line.</param>
    /// <param name="checks">What the demo must answer, and what came out.</param>
    public static void Write(
        Stream output,
        SurveySnapshot survey,
        LocateResult result,
        LocateCase about,
        LocateAnswer answer,
        DiagnosisCase it,
        DiagnosisResult diagnosis,
        TimedInput line,
        IEnumerable<(string Question, string Expected, string Found)> checks) =>
        JsonPage.Write(output, "demo", json =>
        {
            SurveyJson.Body(json, survey);
            json.WriteStartObject("locate");
            LocateJson.Body(json, result, about, answer);
            json.WriteEndObject();
            json.WriteStartObject("diagnose");
            DiagnoseJson.Body(json, it, diagnosis);
            json.WriteEndObject();
            json.WriteStartObject("line");
            TimingJson.Body(json, [line]);
            json.WriteEndObject();
            json.Objects("answers", checks, (writer, check) =>
            {
                writer.Text("question", check.Question);
                writer.Text("expected", check.Expected);
                writer.Text("found", check.Found);
            });
        });
}
