namespace DmxProbe.Fixtures.Patch;

/// <summary>What was recognised in a sheet, to be shown before it is used.</summary>
/// <param name="Format">Kind of file, separator and encoding, with the reason.</param>
/// <param name="HeadingLine">Line of the headings, from 1; 0 when there are none.</param>
/// <param name="Columns">The columns in use.</param>
/// <param name="Ignored">Headings of the columns left out, verbatim; untrusted text.</param>
/// <param name="Notes">What was decided about addresses, universes and lines, a sentence each; names in them are escaped.</param>
public sealed record PatchRecognition(string Format, int HeadingLine, IReadOnlyList<RecognisedColumn> Columns, IReadOnlyList<string> Ignored, IReadOnlyList<string> Notes);
