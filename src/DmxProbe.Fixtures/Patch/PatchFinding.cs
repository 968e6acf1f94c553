namespace DmxProbe.Fixtures.Patch;

/// <summary>One thing wrong with a sheet.</summary>
/// <param name="Id">Kebab-case cause name, one of the constants of <see cref="PatchCheck"/>.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Units">The units it is about, verbatim from the sheet: untrusted text.</param>
/// <param name="Text">One sentence; names in it are escaped.</param>
/// <param name="Action">What to do.</param>
/// <param name="Line">Line of the sheet, from 1.</param>
public sealed record PatchFinding(string Id, PatchSeverity Severity, IReadOnlyList<string> Units, string Text, string Action, int Line);
