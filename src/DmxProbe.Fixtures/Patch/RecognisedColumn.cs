namespace DmxProbe.Fixtures.Patch;

/// <summary>A column and what it was taken to hold.</summary>
/// <param name="Column">What it holds.</param>
/// <param name="Letters">The column as spreadsheets name it: A, B, AA.</param>
/// <param name="Heading">Its heading, verbatim; untrusted text, empty when there is none.</param>
/// <param name="Reason">Why: <c>by its heading</c>, <c>by what it holds</c>, <c>as asked</c>.</param>
public sealed record RecognisedColumn(PatchColumn Column, string Letters, string Heading, string Reason);
