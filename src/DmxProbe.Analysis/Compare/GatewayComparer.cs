using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>
/// Holds lines against a network tap of the same show. For each universe and each merge rule it works out what a gateway
/// would put out, lays the line over it by content, and keeps the pair that explains most of the line's frames.
/// </summary>
public static class GatewayComparer
{
    private const double LeastShare = 0.5;
    private const double NearShare = 0.005; // trade practice: a rule fits with fewer than 0.5 % mismatches
    private const double UnseenMargin = 0.1;
    private const int FewestForDrift = 16;
    private static readonly MergeRule[] Rules = Enum.GetValues<MergeRule>();
    private static readonly Duration LongestClockDoubt = Duration.FromSeconds(2);
    private static readonly Duration Slack = Duration.FromMilliseconds(50);

    /// <summary>Compares every line of one tap with the network of the other.</summary>
    /// <param name="network">The tap on the network.</param>
    /// <param name="line">The tap on lines or serial ports.</param>
    /// <param name="resolution">What the stamps of both taps may be off by, together.</param>
    /// <param name="sameClock">True or false where it is known whether both have one clock; null to decide by the offset found.</param>
    public static IReadOnlyList<GatewayComparison> Compare(
        TapRecording network, TapRecording line, Duration resolution, bool? sameClock = null) =>
    [
        .. line.Streams
            .Where(stream => IsLine(stream.Universe) && stream.Frames.Any(frame => !frame.IsDamaged))
            .Select(stream => Compare(network, line, stream, resolution, sameClock)),
    ];

    /// <summary>True for a line or a serial port.</summary>
    public static bool IsLine(UniverseId universe) => universe.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial;

    private static GatewayComparison Compare(
        TapRecording network, TapRecording line, TapStream far, Duration resolution, bool? sameClock)
    {
        int slots = far.Frames.Where(frame => !frame.IsDamaged).CountBy(frame => line.Slots(frame.Content).Length).MaxBy(count => count.Value).Key;
        LineFrames frames = new(line, far, slots);
        List<Candidate> candidates = [];
        foreach (IGrouping<UniverseId, TapStream> universe in network.Streams.Where(stream => !IsLine(stream.Universe)).GroupBy(stream => stream.Universe))
        {
            TapStream[] senders = [.. universe];
            List<(Timestamp From, Timestamp To)> silences = LossFinder.Silences(network, senders);
            foreach (MergeRule rule in senders.Length == 1 ? Rules[..1] : Rules)
            {
                List<OutputChange> output = MergeSimulator.Run(network, senders, rule, slots);
                if (TapAlignment.Find(output, frames.Changes) is TapAlignment alignment)
                {
                    candidates.Add(Judge(universe.Key, senders, rule, output, alignment, frames, silences));
                }
            }
        }

        GatewayComparison nothing = new() { Line = far.Universe, LineHz = Rate(far), IsWhole = network.IsWhole && line.IsWhole };
        Candidate[] ranked = Rank(candidates);
        if (ranked.Length == 0 || 1 - ranked[0].Fit.MismatchShare < LeastShare)
        {
            return nothing;
        }

        Candidate best = ranked[0];
        bool oneClock = sameClock
            ?? (!network.HasSampleClock && !line.HasSampleClock
                && best.Alignment.Offset > Duration.Zero - Slack && best.Alignment.Offset < LongestClockDoubt);
        Candidate? other = Array.Find(ranked, each => each.Universe != best.Universe);
        Candidate[] same = [.. ranked.Where(each => each.Universe == best.Universe)];
        return Measure(best, oneClock) with
        {
            Line = far.Universe,
            RunnerUp = other?.Universe,
            RunnerUpShare = other is null ? 0 : 1 - other.Fit.MismatchShare,
            Resolution = resolution,
            LineHz = Rate(far),
            NetworkHz = best.Senders.Max(Rate),
            Fits = [.. same.Select(each => each.Fit)],
            BestRules = best.Senders.Length == 1
                ? Rules
                : [.. same.Where(each => IsLikely(each, best) && each.Fit.Mismatched == best.Fit.Mismatched).Select(each => each.Fit.Rule).Order()],
            Losses = LossFinder.Find(network, best.Senders, frames, best.Alignment.Offset),
            IsWhole = nothing.IsWhole,
        };
    }

    // Few frames unexplained comes first. A rule that lets senders alternate explains nearly any frame, so among rules that explain
    // about as much, one that asks for many changes which the line never shows is out.
    private static Candidate[] Rank(List<Candidate> candidates)
    {
        if (candidates.Count == 0)
        {
            return [];
        }

        Candidate least = candidates.MinBy(each => each.Fit.MismatchShare)!;
        Candidate[] near = [.. candidates.Where(each => each.Fit.MismatchShare <= least.Fit.MismatchShare + NearShare)];
        Candidate fewest = near.MinBy(each => each.Fit.UnseenShare)!;
        return
        [
            .. candidates
                .OrderBy(each => near.Contains(each) && IsLikely(each, fewest) ? 0 : 1)
                .ThenBy(each => each.Fit.MismatchShare)
                .ThenBy(each => each.Fit.UnseenShare)
                .ThenBy(each => each.Fit.Rule),
        ];
    }

    private static bool IsLikely(Candidate each, Candidate fewest) => each.Fit.UnseenShare <= fewest.Fit.UnseenShare + UnseenMargin;

    private static Candidate Judge(
        UniverseId universe,
        TapStream[] senders,
        MergeRule rule,
        List<OutputChange> output,
        TapAlignment alignment,
        LineFrames frames,
        List<(Timestamp From, Timestamp To)> silences)
    {
        // A line frame may carry any output that was there from one latency window before it up to the fastest latency.
        long checkedFrames = 0;
        long mismatched = 0;
        long slots = 0;
        int from = 0;
        int silence = 0;
        Timestamp end = senders.Max(sender => sender.Frames[^1].Time) + Slack;
        foreach ((Timestamp time, OutputChange carried) in frames.All)
        {
            Timestamp latest = time - alignment.Offset + Slack;
            Timestamp earliest = time - alignment.Offset - TapAlignment.Window - Slack;
            while (silence < silences.Count && silences[silence].To + TapAlignment.Window < latest)
            {
                silence++;
            }

            // After the last packet of all senders the line does what it is set to, which is no merge.
            bool isLost = silence < silences.Count && latest > silences[silence].From + Slack;
            if (latest - Slack < output[0].Time || latest > end || isLost)
            {
                continue;
            }

            while (from + 1 < output.Count && output[from + 1].Time <= earliest)
            {
                from++;
            }

            bool found = false;
            int differing = int.MaxValue;
            for (int i = from; i < output.Count && output[i].Time <= latest && !found; i++)
            {
                found = output[i].Hash == carried.Hash;
                differing = found ? 0 : Math.Min(differing, Differing(output[i].Slots, carried.Slots));
            }

            checkedFrames++;
            mismatched += found ? 0 : 1;
            slots += found || differing == int.MaxValue ? 0 : differing;
        }

        List<(Timestamp Near, long Difference)> passed = Passed(output, alignment, frames, out long asked);
        return new Candidate(
            universe, senders, output, alignment, passed, new RuleFit(rule, checkedFrames, mismatched, slots, asked, passed.Count));
    }

    private static int Differing(byte[] one, byte[] other)
    {
        int count = 0;
        for (int slot = 0; slot < one.Length; slot++)
        {
            count += one[slot] == other[slot] ? 0 : 1;
        }

        return count;
    }

    // The changes of the output that the line shows, with how much later it did; asked counts those of the time it was watched.
    private static List<(Timestamp Near, long Difference)> Passed(
        List<OutputChange> output, TapAlignment alignment, LineFrames frames, out long asked)
    {
        List<(Timestamp Near, long Difference)> pairs = [];
        int far = 0;
        asked = 0;
        foreach (OutputChange change in output)
        {
            Timestamp earliest = change.Time + alignment.Offset - Slack;
            Timestamp latest = change.Time + alignment.Offset + TapAlignment.Window + Slack;
            if (earliest < frames.Changes[0].Time || latest > frames.Last)
            {
                continue;
            }

            asked++;
            while (far < frames.Changes.Count && frames.Changes[far].Time < earliest)
            {
                far++;
            }

            for (int at = far; at < frames.Changes.Count && frames.Changes[at].Time <= latest; at++)
            {
                if (frames.Changes[at].Hash == change.Hash)
                {
                    pairs.Add((change.Time, (frames.Changes[at].Time - change.Time).Nanoseconds));
                    break;
                }
            }
        }

        return pairs;
    }

    private static GatewayComparison Measure(Candidate best, bool oneClock)
    {
        List<(Timestamp Near, long Difference)> pairs = best.Passed;
        double drift = oneClock || pairs.Count < FewestForDrift ? 0 : ClockDrift.Of(pairs);
        long[] differences = [.. pairs.Select(pair => pair.Difference - (long)(drift * (pair.Near - pairs[0].Near).Nanoseconds))];
        long zero = oneClock || differences.Length == 0 ? 0 : differences.Min();
        IntervalHistogram latency = new();
        foreach (long difference in differences)
        {
            latency.Add(Duration.FromNanoseconds(Math.Max(0, difference - zero)));
        }

        return new GatewayComparison
        {
            Line = default,
            Universe = best.Universe,
            Senders = best.Senders.Length,
            SameClock = oneClock,
            Offset = differences.Length == 0 ? best.Alignment.Offset : Duration.FromNanoseconds(differences.Min()),
            ClockPpm = drift * 1e6,
            Latency = latency.Snapshot(),
            Changes = best.Fit.Changes,
            ChangesPassed = pairs.Count,
        };
    }

    /// <summary>Level frames per second while it ran; null where there are too few.</summary>
    internal static double? Rate(TapStream stream)
    {
        long count = 0;
        double seconds = 0;
        for (int i = 1; i < stream.Frames.Count; i++)
        {
            Duration step = stream.Frames[i].Time - stream.Frames[i - 1].Time;
            if (step >= Duration.Zero && step < ArrivalAnalyzer.LongestRunning)
            {
                count++;
                seconds += step.TotalSeconds;
            }
        }

        return seconds > 0 ? count / seconds : null;
    }

    private sealed record Candidate(
        UniverseId Universe,
        TapStream[] Senders,
        List<OutputChange> Output,
        TapAlignment Alignment,
        List<(Timestamp Near, long Difference)> Passed,
        RuleFit Fit);
}
