namespace DmxProbe.Cli;

/// <summary>What an export wrote.</summary>
/// <param name="Table">The table.</param>
/// <param name="Form">csv, parquet or json.</param>
/// <param name="File">The file.</param>
/// <param name="Rows">Rows written.</param>
/// <param name="Octets">Length of the file.</param>
/// <param name="Cut">Why inputs ended early, a sentence each.</param>
internal sealed record ExportResult(string Table, string Form, string File, long Rows, long Octets, IReadOnlyList<string> Cut);
