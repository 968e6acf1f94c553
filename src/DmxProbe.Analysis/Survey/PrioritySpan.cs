using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>A stretch of time in which a sender gave one priority.</summary>
/// <param name="Value">Priority as sent, 0 to 255.</param>
/// <param name="From">First frame with it.</param>
/// <param name="To">Last frame with it.</param>
public sealed record PrioritySpan(int Value, Timestamp From, Timestamp To);
