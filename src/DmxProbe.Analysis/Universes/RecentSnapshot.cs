namespace DmxProbe.Analysis.Universes;

/// <summary>What <see cref="RecentAnalyzer"/> knows of one sender on one universe.</summary>
/// <param name="Levels">The slots last sent, slot 1 first.</param>
/// <param name="Changed">When each slot last changed, Unix nanoseconds; <see cref="long.MinValue"/>: never yet.</param>
/// <param name="Frames">Level frames in each of the last whole seconds, the latest last.</param>
public sealed record RecentSnapshot(byte[] Levels, long[] Changed, int[] Frames)
{
    /// <summary>Slots last sent, also where their levels were not asked for.</summary>
    public int SlotCount { get; init; } = Levels.Length;
}
