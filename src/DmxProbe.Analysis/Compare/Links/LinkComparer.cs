using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>
/// Holds each universe of a far tap against the universe of a near tap that feeds it, of whatever kind both are: how late it is, when
/// it froze, what it left out, and when it showed something else.
/// </summary>
public static class LinkComparer
{
    private const double LeastMatched = 0.2;
    private const int FewestMatched = 3;
    private const int FewestForDrift = 16;
    private const int MostStreamsTried = 64;
    private static readonly Duration LongestClockDoubt = Duration.FromSeconds(2);
    private static readonly Duration LeastLead = Duration.FromMilliseconds(1);
    private static readonly Duration Slack = Duration.FromMilliseconds(50);

    /// <summary>Compares every universe of the far tap.</summary>
    /// <param name="near">The tap before the link.</param>
    /// <param name="far">The tap behind it.</param>
    /// <param name="sameClock">True or false where it is known whether both have one clock; null to decide by the offset found.</param>
    public static IReadOnlyList<LinkComparison> Compare(TapRecording near, TapRecording far, bool? sameClock = null) =>
    [
        .. far.Streams.Where(stream => stream.Frames.Any(IsSound)).Select(stream => Compare(near, far, stream, sameClock)),
    ];

    /// <summary>Whether a frame carries levels that came whole.</summary>
    internal static bool IsSound(TapFrame frame) => frame is { IsDamaged: false, IsEnd: false };

    private static LinkComparison Compare(TapRecording near, TapRecording far, TapStream stream, bool? sameClock)
    {
        int farSlots = Usual(far, stream);
        LinkComparison nothing = new()
        {
            Far = stream.Universe,
            FarSender = stream.Sender,
            FarSlots = farSlots,
            FarHz = GatewayComparer.Rate(stream),
            IsWhole = near.IsWhole && far.IsWhole,
            Resolution = near.Resolution + far.Resolution,
        };
        LinkSide? best = null;
        TapAlignment bestFound = default;
        LineFrames? bestFrames = null;
        foreach (LinkSide side in Sides(near, stream.Universe))
        {
            int slots = Math.Min(side.Slots, farSlots);
            LineFrames frames = new(far, stream, slots);
            IReadOnlyList<OutputChange> contents = side.Contents(near, slots);
            TapAlignment? found = TapAlignment.Find(contents, frames.Changes);
            if (found is null || found.Value.Matched < LeastMatched * Math.Min(contents.Count, frames.Changes.Count))
            {
                found = LinkBlocks.Find(contents, frames.Changes, slots) ?? found;
            }

            if (found is TapAlignment alignment && alignment.Matched >= FewestMatched && alignment.Matched > bestFound.Matched)
            {
                (best, bestFound, bestFrames) = (side with { Slots = slots, Changes = contents }, alignment, frames);
            }
        }

        // Levels that hardly change lay nothing over anything; the same sender with the same levels is the same all the same.
        if (best is null && Sides(near, stream.Universe).FirstOrDefault(side => side.Sender is { } sender && IsSame(sender, stream.Sender) && side.Universe == stream.Universe) is LinkSide own)
        {
            int slots = Math.Min(own.Slots, farSlots);
            bestFrames = new LineFrames(far, stream, slots);
            best = own with { Slots = slots, Changes = own.Contents(near, slots) };
            HashSet<ulong> contents = [.. best.Changes.Select(change => change.Hash)];
            Duration offset = bestFrames.All[0].Time - own.Streams[0].Frames[0].Time;
            bestFound = new TapAlignment(offset > Duration.Zero - LongestClockDoubt && offset < LongestClockDoubt ? Duration.Zero : offset, 0);
            best = bestFrames.Changes.All(change => contents.Contains(change.Hash)) ? best : null;
        }

        if (best is null || bestFrames is null)
        {
            return nothing;
        }

        LinkJudge judge = new(best, bestFrames, bestFound.Offset, far.Last);
        bool haveDates = !near.HasSampleClock && !far.HasSampleClock;
        bool oneClock = sameClock ?? (haveDates && judge.Usual > Duration.Zero - Slack && bestFound.Offset < LongestClockDoubt);
        Duration lead = Duration.Zero - judge.Usual;
        bool leads = sameClock ?? (haveDates && lead < LongestClockDoubt);
        double drift = 0;
        if (!oneClock && judge.Passed.Count >= FewestForDrift)
        {
            drift = ClockDrift.Of(judge.Passed);
            LineFrames steady = bestFrames.WithoutDrift(drift);
            judge = new LinkJudge(best, steady, (TapAlignment.Find(best.Changes, steady.Changes) ?? bestFound).Offset, far.Last);
        }

        LinkComparison judged = judge.Judge(oneClock, drift, Others(near, best));
        long? missing = MissingBySequence(best, stream);
        bool isTurned = leads && lead > nothing.Resolution && lead > LeastLead;
        if (isTurned)
        {
            // Freezes, other levels and slots that differ are of what comes behind, and that may be the other one.
            judged = new LinkComparison { Far = nothing.Far, FarSender = nothing.FarSender, Near = judged.Near, NearSender = judged.NearSender, SameClock = judged.SameClock, Offset = judged.Offset, ClockPpm = judged.ClockPpm, Latency = judged.Latency, Changes = judged.Changes, ChangesPassed = judged.ChangesPassed, Frames = judged.Frames, Lead = lead };
            missing = null;
        }

        return judged with
        {
            MissingFrames = missing ?? judged.MissingFrames,
            IsMissingBySequence = missing is not null,
            Far = nothing.Far,
            FarSender = nothing.FarSender,
            FarSlots = farSlots,
            NearSlots = best.Usual,
            FarHz = nothing.FarHz,
            NearHz = best.Streams.Max(GatewayComparer.Rate),
            Resolution = nothing.Resolution,
            IsWhole = nothing.IsWhole,
        };
    }

    // What the numbers of the far end leave out, less what the near tap missed of the same count; null where frames carry none.
    private static long? MissingBySequence(LinkSide near, TapStream far)
    {
        TapFrame[] behind = [.. far.Frames.Where(IsSound)];
        if (behind.Any(frame => frame.Lost < 0))
        {
            return null;
        }

        long missing = behind[^1].Lost - behind[0].Lost;
        if (near.Sender is { } sender && near.Universe == far.Universe && IsSame(sender, far.Sender))
        {
            TapFrame[] before = [.. near.Streams[0].Frames.Where(frame => IsSound(frame) && frame.Lost >= 0)];
            missing -= before.Length == 0 ? 0 : before[^1].Lost - before[0].Lost;
        }

        return Math.Max(0, missing);
    }

    // The same universe first: on a network it is nearly always that one.
    private static IEnumerable<LinkSide> Sides(TapRecording near, UniverseId far)
    {
        TapStream[] usable = [.. near.Streams.Where(stream => stream.Frames.Any(IsSound))];
        TapStream[] same = GatewayComparer.IsLine(far) ? [] : [.. usable.Where(stream => stream.Universe == far)];
        foreach (IGrouping<UniverseId, TapStream> universe in (same.Length > 0 ? same : usable.Take(MostStreamsTried)).GroupBy(stream => stream.Universe))
        {
            TapStream[] senders = [.. universe];
            foreach (TapStream sender in senders)
            {
                yield return new LinkSide(universe.Key, sender.Sender, [sender], Usual(near, sender));
            }

            if (senders.Length > 1)
            {
                yield return new LinkSide(universe.Key, null, senders, senders.Max(sender => Usual(near, sender)));
            }
        }
    }

    private static List<(string Who, LinkContents Contents)> Others(TapRecording near, LinkSide best) =>
    [
        .. near.Streams
            .Where(stream => stream.Frames.Any(IsSound) && !best.Streams.Contains(stream))
            .Concat(best.Streams.Length > 1 ? best.Streams : [])
            .Take(MostStreamsTried)
            .Select(stream => (Who(stream), new LinkContents(new LineFrames(near, stream, best.Slots).Changes, null, best.Slots))),
    ];

    private static bool IsSame(SenderSummary one, SenderSummary other) => one.Cid.Length > 0
        ? one.Cid == other.Cid
        : (one.Address, one.Physical) == (other.Address, other.Physical);

    private static string Who(TapStream stream) => (stream.Sender.Name.Length, stream.Sender.Address.Length) switch
    {
        (0, 0) => stream.Universe.Label,
        (0, _) => $"{stream.Sender.Address} on {stream.Universe.Label}",
        _ => $"'{stream.Sender.Name}' on {stream.Universe.Label}",
    };

    private static int Usual(TapRecording tap, TapStream stream) =>
        stream.Frames.Where(IsSound).CountBy(frame => tap.Slots(frame.Content).Length).MaxBy(count => count.Value).Key;
}
