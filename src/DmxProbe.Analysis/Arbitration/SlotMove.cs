using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>The last change of the level of a slot as receivers put it out.</summary>
/// <param name="Time">When.</param>
/// <param name="From">The level before; -1 where it was not known or not decided.</param>
/// <param name="To">The level after; -1 where it cannot be decided.</param>
/// <param name="Cause">What moved it: a level that changed, or another sender that came to decide.</param>
/// <param name="MovedBy">Index of the sender that caused it; -1 when none did.</param>
public sealed record SlotMove(Timestamp Time, int From, int To, ChangeCause Cause, int MovedBy);
