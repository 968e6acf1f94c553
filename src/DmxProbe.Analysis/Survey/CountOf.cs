namespace DmxProbe.Analysis.Survey;

/// <summary>How often a value occurred.</summary>
/// <param name="Value">The value: a slot count, a START code, an OpCode.</param>
/// <param name="Count">How often.</param>
public readonly record struct CountOf(int Value, long Count);
