using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Reporting.Html;

/// <summary>A unit of the sheet, as far as a report names it.</summary>
/// <param name="Name">Its name; untrusted.</param>
/// <param name="Position">Where it hangs; untrusted, may be empty.</param>
/// <param name="Wire">The universe of the wire it reads by the sheet; null where it was not captured.</param>
public sealed record ReportUnit(string Name, string Position, UniverseId? Wire);
