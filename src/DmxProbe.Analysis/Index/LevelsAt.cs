using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Index;

/// <summary>The levels of one sender at one time.</summary>
/// <param name="Sender">Who sent them.</param>
/// <param name="Slots">Slot 1 first.</param>
public sealed record LevelsAt(SenderSummary Sender, byte[] Slots);
