namespace DmxProbe.Reporting.Html;

/// <summary>A file that a report rests on.</summary>
/// <param name="Name">As the person named it.</param>
/// <param name="Octets">Its length; null for an input that is no file.</param>
/// <param name="Sha256">Its SHA-256 in hexadecimal; empty for an input that is no file.</param>
/// <param name="What">What it is: capture, patch sheet, trace.</param>
public sealed record ReportFile(string Name, long? Octets, string Sha256, string What);
