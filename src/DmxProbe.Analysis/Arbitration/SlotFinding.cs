using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>An answer about a slot with the senders it speaks of.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="Senders">By index, whom it names.</param>
public sealed record SlotFinding(SlotAnswer Answer, IReadOnlyDictionary<int, SenderSummary> Senders);
