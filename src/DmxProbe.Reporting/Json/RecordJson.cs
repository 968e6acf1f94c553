namespace DmxProbe.Reporting.Json;

/// <summary>What was recorded, as JSON. docs/json.md documents each field; a test holds the two together.</summary>
public static class RecordJson
{
    /// <summary>Writes what a run of the recorder did.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="run">What it did.</param>
    public static void Write(Stream output, RecordedRun run) => JsonPage.Write(output, "record", json =>
    {
        json.Text("folder", run.Folder);
        json.WriteNumber("records", run.Records);
        json.WriteNumber("marks", run.Marks);
        json.WriteNumber("octets", run.Octets);
        json.WriteNumber("segments", run.Segments);
        json.WriteNumber("deleted", run.Deleted);
        json.WriteNumber("lostBySource", run.LostBySource);
        json.WriteNumber("notRecorded", run.NotRecorded);
        json.Figure("longestAtRiskMs", run.LongestAtRiskMs);
    });
}
