namespace DmxProbe.Reporting.Json;

/// <summary>What <c>report</c> wrote, as JSON; the answers themselves are those of the other commands.</summary>
public static class ReportJson
{
    /// <summary>Writes the page.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="file">The file.</param>
    /// <param name="octets">Its length.</param>
    /// <param name="isFaulty">Whether open faults are in it.</param>
    /// <param name="cut">Why inputs ended early.</param>
    public static void Write(Stream output, string file, long octets, bool isFaulty, IEnumerable<string> cut) => JsonPage.Write(output, "report", json =>
    {
        json.Text("file", file);
        json.WriteNumber("octets", octets);
        json.WriteBoolean("faults", isFaulty);
        json.Texts("cut", cut);
    });
}
