using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Rdm;

/// <summary>One difference between what RDM devices say and the patch sheet. Names in the text are escaped.</summary>
/// <param name="Id">Kebab-case cause name.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Units">Units of the sheet it is about, verbatim; may be empty.</param>
/// <param name="Uid">The device; empty where it is about none.</param>
/// <param name="Text">One sentence.</param>
/// <param name="Action">What to do; empty when nothing follows.</param>
public sealed record RdmRemark(string Id, Severity Severity, IReadOnlyList<string> Units, string Uid, string Text, string Action);
