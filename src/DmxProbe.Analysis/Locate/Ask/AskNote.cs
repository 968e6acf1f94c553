using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>One line of a notes file.</summary>
/// <param name="Time">When.</param>
/// <param name="Seen">What was seen.</param>
/// <param name="Raised">The slots that stood up while all other intensities and colours were at 0; null = what the capture says.</param>
/// <param name="Line">Line of the file, from 1.</param>
public sealed record AskNote(Timestamp Time, Seen Seen, IReadOnlyList<RaisedSlot>? Raised, int Line);
