namespace DmxProbe.Reporting.Json;

/// <summary>What <c>export</c> wrote, as JSON; the table itself is in its file.</summary>
public static class ExportJson
{
    /// <summary>Writes the page.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="table">The table.</param>
    /// <param name="form">Its form.</param>
    /// <param name="file">The file.</param>
    /// <param name="rows">Rows written.</param>
    /// <param name="octets">Length of the file.</param>
    /// <param name="cut">Why inputs ended early.</param>
    public static void Write(Stream output, string table, string form, string file, long rows, long octets, IEnumerable<string> cut) =>
        JsonPage.Write(output, "export", json =>
        {
            json.Text("table", table);
            json.Text("form", form);
            json.Text("file", file);
            json.WriteNumber("rows", rows);
            json.WriteNumber("octets", octets);
            json.Texts("cut", cut);
        });
}
