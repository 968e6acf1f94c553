using System.Text;

using DmxProbe.Reporting.Tables;
using DmxProbe.Testing.Files;

namespace DmxProbe.Reporting.Tests.Tables;

/// <summary>Holds docs/export.md and the tables together.</summary>
public class ExportPageTests
{
    [Theory]
    [InlineData("frames")]
    [InlineData("changes")]
    [InlineData("measurements")]
    [InlineData("findings")]
    public void Each_table_is_documented_column_by_column(string name)
    {
        TableSpec spec = new[] { FrameTable.Spec, ChangeTable.Spec, MeasurementTable.Spec, FindingTable.Spec }.Single(each => each.Name == name);
        string page = File.ReadAllText(Path.Combine(Places.Repository, "docs", "export.md")).ReplaceLineEndings("\n");
        Assert.Contains(Section(spec), page, StringComparison.Ordinal);
    }

    private static string Section(TableSpec spec)
    {
        StringBuilder text = new();
        text.Append("## ").Append(spec.Name).Append("\nA row is ").Append(spec.Row).Append(".\n\n| column | type | what it is |\n|---|---|---|\n");
        foreach (TableColumn column in spec.Columns)
        {
            text.Append("| `").Append(column.Name).Append("` | ").Append(TypeOf(column.Kind)).Append(" | ").Append(column.Meaning).Append(" |\n");
        }

        return text.ToString();
    }

    private static string TypeOf(ColumnKind kind) => kind switch
    {
        ColumnKind.Text => "text",
        ColumnKind.Whole => "whole number",
        ColumnKind.Figure => "number",
        ColumnKind.Time => "time",
        _ => "octets",
    };
}
