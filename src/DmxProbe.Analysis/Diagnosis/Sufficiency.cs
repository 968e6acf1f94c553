using System.Globalization;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// Whether a capture suffices to say that something is not there. A sender may repeat a universe that holds still only about
/// once a second, so what has not come within a moment may come yet; and levels say nothing where there are none.
/// </summary>
internal static class Sufficiency
{
    /// <summary>The least length of a network capture that tells what is absent, seconds: three repetitions of a universe that holds still (our choice, no source).</summary>
    public const double LeastSeconds = 3;

    /// <summary>The fewest frames of levels that exclude a cause which shows in levels (our choice, no source).</summary>
    public const int FewestFrames = 3;

    // They show in other packets than levels.
    private static readonly HashSet<string> NotInLevels =
    [
        "address-conflict", "art-net-port", "art-net-rules", "device-silent", "fragmented-packets", "malformed-packets", "network-loop",
        "no-querier", "odd-poll-reply", "rdm-identify-on", "rdm-identity-twice", "two-interfaces-one-network", "two-queriers",
    ];

    // They show in levels, and sit elsewhere than in the network or at the unit.
    private static readonly HashSet<string> AlsoInLevels = ["alternate-start-code", "levels-starved-by-rdm"];

    // They are seen by what does not come, or does not change.
    private static readonly HashSet<string> SeenByAbsence =
    [
        "held-at-controller", "joined-nobody-sends", "no-levels", "old-source-left-on", "output-without-sender", "universe-at-zero",
        "universe-list-differs", "universe-not-sent", "universe-numbers-shifted", "universe-stands-still",
    ];

    /// <summary>Whether a cause cannot be judged at all in so short a capture.</summary>
    public static bool NeedsLonger(Cause cause, DiagnosisCase it) => it.IsTooShort && SeenByAbsence.Contains(cause.Id);

    /// <summary>What is missing to exclude a cause that was not seen; null where the capture suffices.</summary>
    public static (CauseInputs Missing, string Text)? Lacks(Cause cause, DiagnosisCase it)
    {
        bool isInLevels = AlsoInLevels.Contains(cause.Id);
        if (!it.Inputs.HasFlag(CauseInputs.Network) || (!isInLevels && cause.Card.Group is not (CauseGroup.Network or CauseGroup.UnitState)))
        {
            return null;
        }

        if (it.IsTooShort)
        {
            return (CauseInputs.Longer, TooShort(cause, it));
        }

        long frames = it.Survey.Universes.Sum(universe => universe.Streams.Sum(stream => stream.LevelFrames));
        return frames >= FewestFrames || NotInLevels.Contains(cause.Id) ? null
            : (CauseInputs.Levels, string.Create(CultureInfo.InvariantCulture, $"{cause.Name}: not seen, but with {frames} frames of levels nothing is excluded; {FewestFrames} are the least."));
    }

    /// <summary>What is said of a cause in a capture that is too short.</summary>
    public static string TooShort(Cause cause, DiagnosisCase it) =>
        string.Create(CultureInfo.InvariantCulture, $"{cause.Name}: too short to tell, {it.NetworkLength.TotalSeconds:0.###} s of network; {LeastSeconds:0} s are the least.");
}
