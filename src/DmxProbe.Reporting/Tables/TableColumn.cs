namespace DmxProbe.Reporting.Tables;

/// <summary>One column of an exported table.</summary>
/// <param name="Name">Name, camelCase, the same in every form.</param>
/// <param name="Kind">What its cells hold.</param>
/// <param name="Meaning">What it is, with its unit.</param>
public sealed record TableColumn(string Name, ColumnKind Kind, string Meaning);
