using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>Two inputs that were taken for two taps.</summary>
/// <param name="Near">Place of the network, or of the start of the line, among the inputs.</param>
/// <param name="Far">Place of the line, or of its far end.</param>
/// <param name="Comparison">What was found.</param>
public sealed record TapPair(int Near, int Far, TapComparison Comparison)
{
    /// <summary>
    /// Finds the pairs among inputs: each input with a line is held against each input of the network, and each line against the
    /// line given before it, which is its start. Lines that carry different packets are no pair.
    /// </summary>
    /// <param name="taps">What each input saw, in the order given.</param>
    /// <param name="sameClock">Whether they have one clock; null to decide by the offset found.</param>
    public static IReadOnlyList<TapPair> Among(IReadOnlyList<TapRecording> taps, bool? sameClock = null)
    {
        List<TapPair> pairs = [];
        for (int far = 0; far < taps.Count; far++)
        {
            for (int near = 0; near < taps.Count; near++)
            {
                Duration resolution = taps[near].Resolution + taps[far].Resolution;
                if (near == far || !taps[far].HasLine || (taps[near].HasLine && near != far - 1)
                    || TapComparison.Of(taps[near], taps[far], resolution, sameClock) is not { } comparison)
                {
                    continue;
                }

                if (!comparison.IsSegment || comparison.Segments.Any(segment => segment.IsAligned))
                {
                    pairs.Add(new TapPair(near, far, comparison));
                }
            }
        }

        return pairs;
    }
}
