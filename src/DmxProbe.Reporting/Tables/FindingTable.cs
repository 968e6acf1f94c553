using DmxProbe.Analysis.Findings;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Reporting.Tables;

/// <summary>The table <c>findings</c>: what <c>survey</c> found, in its order.</summary>
public static class FindingTable
{
    /// <summary>The table.</summary>
    public static TableSpec Spec { get; } = new(
        "findings",
        "one finding of the survey",
        [
            new("id", ColumnKind.Text, "name of the kind of finding"),
            new("severity", ColumnKind.Text, "info, warning or fault"),
            new("subject", ColumnKind.Text, "what it is about; may hold untrusted names"),
            new("text", ColumnKind.Text, "one sentence"),
            new("measured", ColumnKind.Text, "the figure it rests on"),
            new("limit", ColumnKind.Text, "the limit it was held against"),
            new("limitSource", ColumnKind.Text, "where that is from, and how it is known"),
            new("from", ColumnKind.Time, "start of the span that shows it, UTC; in Parquet whole microseconds since 1970-01-01 UTC, cut"),
            new("to", ColumnKind.Time, "end of that span"),
            new("firstRecord", ColumnKind.Whole, "first record that shows it; none where no single one does, and with several inputs"),
            new("action", ColumnKind.Text, "what to do next"),
            new("cautions", ColumnKind.Text, "what to mind before, with ' | ' between several"),
        ]);

    /// <summary>Writes findings.</summary>
    /// <param name="table">Where to; a writer of <see cref="Spec"/>.</param>
    /// <param name="findings">The findings.</param>
    public static void Write(TableWriter table, IEnumerable<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(findings);
        foreach (Finding finding in findings)
        {
            table.Text(finding.Id);
            table.Text(JsonWords.Of(finding.Severity));
            table.Text(finding.Subject);
            table.Text(finding.Text);
            table.Text(finding.Measured);
            table.Text(finding.Limit);
            table.Text(finding.LimitSource);
            table.Time(TableWords.OrNone(finding.From));
            table.Time(TableWords.OrNone(finding.To));
            table.Whole(finding.FirstRecord > 0 ? finding.FirstRecord : null);
            table.Text(finding.Action);
            table.Text(string.Join(" | ", finding.Cautions));
            table.EndRow();
        }
    }
}
