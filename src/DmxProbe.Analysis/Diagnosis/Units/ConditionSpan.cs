using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>How long a condition held.</summary>
/// <param name="Condition">The condition, one of them.</param>
/// <param name="Total">All its time together.</param>
/// <param name="Longest">The longest time in one piece.</param>
/// <param name="First">When it began first.</param>
/// <param name="HeldAtEnd">Whether it holds at the end.</param>
public readonly record struct ConditionSpan(UnitConditions Condition, Duration Total, Duration Longest, Timestamp First, bool HeldAtEnd);
