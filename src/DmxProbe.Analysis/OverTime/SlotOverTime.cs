using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.OverTime;

/// <summary>The levels of one slot from one sender, span by span.</summary>
/// <param name="Sender">Who sent it.</param>
/// <param name="Slot">The slot, 1 to 512.</param>
/// <param name="Lowest">Lowest level in each span, 0 to 255; null before the first frame that sent it. A span without frames holds the level before.</param>
/// <param name="Highest">Highest level in each span.</param>
public sealed record SlotOverTime(SenderSummary Sender, int Slot, IReadOnlyList<int?> Lowest, IReadOnlyList<int?> Highest);
