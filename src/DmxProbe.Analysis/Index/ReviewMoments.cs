using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>Moments of a recording in the shape that <see cref="RecentAnalyzer"/> gives them live. For one thread at a time.</summary>
/// <param name="index">The recording.</param>
public sealed class ReviewMoments(ReviewIndex index)
{
    private const long Second = 1_000_000_000;

    /// <summary>How far back the last change of a slot is looked up.</summary>
    public static Duration Lately { get; } = Duration.FromSeconds(5);

    /// <summary>Everybody who sent a universe at a moment or less than 12 s before.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="at">The moment.</param>
    /// <param name="changes">Whether to look up when each slot changed within the last 5 s; what is not known reads <see cref="long.MinValue"/>.</param>
    public IReadOnlyList<ReviewMoment> At(UniverseId universe, Timestamp at, bool changes) => changes
        ? [.. index.LevelsWithChanges(universe, at, Lately).Select(each => Moment(universe, each.Levels, each.Changed, at))]
        : [.. index.LevelsAt(universe, at).Select(levels => Moment(universe, levels, [.. Enumerable.Repeat(long.MinValue, levels.Slots.Length)], at))];

    private ReviewMoment Moment(UniverseId universe, ReviewLevels levels, long[] changed, Timestamp at) =>
        new(levels.Sender, new RecentSnapshot(levels.Slots, changed, Frames(universe, levels.Sender.Index, at)), levels.IsEnded);

    // Frames in each of the last whole seconds, as live.
    private int[] Frames(UniverseId universe, int sender, Timestamp at)
    {
        int[] frames = new int[RecentAnalyzer.Seconds];
        if (index.Streams.FirstOrDefault(stream => stream.Universe == universe && stream.Sender.Index == sender) is not ReviewStream stream)
        {
            return frames;
        }

        long running = at.UnixNanoseconds / Second;
        foreach (Timestamp time in index.FrameTimes(stream, at - Duration.FromSeconds(RecentAnalyzer.Seconds + 1), at))
        {
            long back = running - (time.UnixNanoseconds / Second);
            if (back is >= 1 and <= RecentAnalyzer.Seconds)
            {
                frames[RecentAnalyzer.Seconds - back]++;
            }
        }

        return frames;
    }
}
