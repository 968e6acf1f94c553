using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>The levels of one sender on one universe as they were at a time.</summary>
/// <param name="Sender">Who sent them.</param>
/// <param name="Slots">Slot 1 first.</param>
/// <param name="Time">When the frame came that left them.</param>
/// <param name="Priority">Its sACN priority; 100 where the protocol has none.</param>
/// <param name="IsEnded">Whether the sender had ended its stream behind that frame.</param>
public sealed record ReviewLevels(SenderSummary Sender, byte[] Slots, Timestamp Time, int Priority, bool IsEnded);
