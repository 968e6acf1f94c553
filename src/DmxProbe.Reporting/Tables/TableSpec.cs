namespace DmxProbe.Reporting.Tables;

/// <summary>An exported table: its name, what a row is, and its columns. docs/export.md lists all of them.</summary>
/// <param name="Name">Name, as on the command line.</param>
/// <param name="Row">What one row is.</param>
/// <param name="Columns">The columns in their order.</param>
public sealed record TableSpec(string Name, string Row, IReadOnlyList<TableColumn> Columns);
