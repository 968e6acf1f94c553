using DmxProbe.Analysis.Arbitration;

namespace DmxProbe.Analysis.Explain;

/// <summary>A unit as one kind of receiver puts its slots out, whoever each comes from.</summary>
/// <param name="Condition">Of which receivers it speaks.</param>
/// <param name="Of">The unit; its sender is none of its own.</param>
public sealed record PutOutView(WinCondition Condition, SenderView Of);
