using System.Text.Json;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Reporting.Tables;

namespace DmxProbe.Reporting.Json;

/// <summary>Everything about inputs as one JSON page: survey, timing, then every frame and every change.</summary>
public static class EverythingJson
{
    /// <summary>Writes the page. Frames and changes go out as they come: memory does not grow with them.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="survey">The survey of the inputs.</param>
    /// <param name="timing">Their figures.</param>
    /// <param name="frames">Reads the inputs once more and fills the table <c>frames</c>.</param>
    /// <param name="changes">Reads the inputs once more and fills the table <c>changes</c>.</param>
    /// <returns>Rows of both tables.</returns>
    public static long Write(
        Stream output, SurveySnapshot survey, IReadOnlyList<TimedInput> timing, Action<TableWriter> frames, Action<TableWriter> changes)
    {
        ArgumentNullException.ThrowIfNull(frames);
        ArgumentNullException.ThrowIfNull(changes);
        long rows = 0;
        JsonPage.Write(output, "export", json =>
        {
            json.WriteStartObject("survey");
            SurveyJson.Body(json, survey);
            json.WriteEndObject();
            json.WriteStartObject("timing");
            TimingJson.Body(json, timing);
            json.WriteEndObject();
            rows += Table(json, FrameTable.Spec, frames);
            rows += Table(json, ChangeTable.Spec, changes);
        });
        return rows;
    }

    private static long Table(Utf8JsonWriter json, TableSpec spec, Action<TableWriter> fill)
    {
        using JsonTableWriter table = new(spec, json);
        fill(table);
        table.Finish();
        return table.Rows;
    }
}
