namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>A column of a CSV that is a line.</summary>
/// <param name="Index">Which column, from 0.</param>
/// <param name="Name">Its heading; untrusted text.</param>
/// <param name="LowBelow">Volts below which it turns low; null where it holds 0, 1 or words.</param>
/// <param name="HighFrom">Volts from which it turns high.</param>
internal sealed record CsvColumn(int Index, string Name, double? LowBelow, double HighFrom);
