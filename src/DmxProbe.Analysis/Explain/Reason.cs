using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>One reason for what a unit does.</summary>
/// <param name="Text">A part of a sentence without a time: <c>shutter slot 8 (1.068) is 12 = 'closed'</c>. Holds untrusted text.</param>
/// <param name="Slot">Place in the mode of the slot it is about; 0 when it is about none.</param>
/// <param name="Since">Since when; null = as long as the sender was heard.</param>
public sealed record Reason(string Text, int Slot, Timestamp? Since);
