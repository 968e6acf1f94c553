using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Universes;

/// <summary>What <see cref="LevelAnalyzer"/> knows of one sender on one universe.</summary>
/// <param name="Frames">Frames that carried whole levels.</param>
/// <param name="Changes">Those whose slots differ from the frame before.</param>
/// <param name="KeepAlive">Intervals of keep-alive; null when there were none.</param>
/// <param name="SlotCounts">How often each slot count came, by slot count.</param>
/// <param name="Runs">Times it went from sending changes to keep-alive.</param>
/// <param name="ShortRuns">Those with fewer than three equal packets before.</param>
public sealed record LevelSnapshot(
    long Frames,
    long Changes,
    IntervalStatistics? KeepAlive,
    IReadOnlyList<CountOf> SlotCounts,
    long Runs,
    long ShortRuns)
{
    /// <summary>Slots that ever changed from one frame to the next.</summary>
    public int MovedSlots { get; init; }

    /// <summary>Slots above 0 in the last frame.</summary>
    public int SlotsUp { get; init; }
}
