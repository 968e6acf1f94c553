using System.Text.Json;

using DmxProbe.Analysis.Findings;

namespace DmxProbe.Reporting.Json;

/// <summary>Findings, the same on every page that has them.</summary>
internal static class FindingJson
{
    /// <summary>Writes <c>findings[]</c>.</summary>
    public static void Findings(this Utf8JsonWriter json, IEnumerable<Finding> findings) =>
        json.Objects("findings", findings, Write);

    private static void Write(Utf8JsonWriter json, Finding finding)
    {
        json.Text("id", finding.Id);
        json.WriteString("severity", JsonWords.Of(finding.Severity));
        json.Text("subject", finding.Subject);
        json.Text("text", finding.Text);
        json.TextOrNull("measured", finding.Measured);
        json.TextOrNull("limit", finding.Limit);
        json.TextOrNull("limitSource", finding.LimitSource);
        json.Time("from", finding.From);
        json.Time("to", finding.To);
        if (finding.FirstRecord > 0)
        {
            json.WriteNumber("firstRecord", finding.FirstRecord);
        }
        else
        {
            json.WriteNull("firstRecord");
        }

        json.TextOrNull("action", finding.Action);
        json.Texts("cautions", finding.Cautions);
    }
}
