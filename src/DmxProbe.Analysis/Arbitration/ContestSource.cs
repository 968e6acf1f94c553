using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Makes the contest of a universe out of what the fast way knows of its only sender.</summary>
/// <param name="levels">The levels of all streams; null where there are none at hand.</param>
/// <param name="modes">How nodes merge.</param>
internal sealed class ContestSource(LevelAnalyzer? levels, MergeModes modes)
{
    /// <summary>Counts the frames of plain senders that run in the place of the analyzer; null: nobody does.</summary>
    public RunningStreams? Running { get; set; }

    /// <summary>The contest of a universe, brought up to what the fast way let pass; from now on the fast way is closed.</summary>
    public Contest Of(ref UniverseEntry entry)
    {
        if (entry.OnlyStream != 0)
        {
            Running?.NoLongerOnly(entry.OnlyStream - 1, ref entry.Sequence, ref entry.Last);
        }

        if (entry.Contest is null)
        {
            entry.Contest = Make(in entry, entry.History!);
        }
        else if (entry.OnlyStream != 0 && entry.Contest.Quiet is Claim quiet)
        {
            quiet.Last = entry.Last;
            quiet.Sequence = entry.Sequence;
            quiet.TakeLevels(LevelsOf(in entry), isCut: false, order: 0);
            quiet.SlotCount = entry.SlotCount;
        }

        entry.OnlyStream = 0;
        return entry.Contest;
    }

    /// <summary>A copy of it, advanced to a time: what is asked for early must not change what is found later.</summary>
    public Contest CopyOf(in UniverseEntry entry, Timestamp now)
    {
        UniverseEntry copy = entry;
        copy.Contest = entry.Contest?.Copy();
        copy.History = copy.Contest?.History ?? entry.History!.Copy();
        Contest contest = Of(ref copy);
        contest.Advance(now);
        (contest as PriorityContest)?.At(now);
        return contest;
    }

    private Contest Make(in UniverseEntry entry, UniverseHistory history)
    {
        Contest contest = entry.HasPriority
            ? new PriorityContest(entry.Universe, history)
            : new MergeContest(entry.Universe, history, modes);
        if (entry.Follows)
        {
            contest.Follow();
        }

        if (entry.OnlyStream != 0)
        {
            Claim claim = new()
            {
                Stream = entry.OnlyStream - 1,
                Sender = entry.Sender,
                Host = entry.Host,
                IsLive = true,
                Priority = entry.Priority,
                Sequence = entry.Sequence,
                Last = entry.Last,
            };
            claim.TakeLevels(LevelsOf(in entry), isCut: false, order: 0);
            claim.SlotCount = entry.SlotCount;
            contest.Begin(claim, entry.Since);
            (contest as MergeContest)?.CameFrom(entry.Host);
        }

        return contest;
    }

    private ReadOnlySpan<byte> LevelsOf(in UniverseEntry entry) => levels is null ? [] : levels.Levels(entry.OnlyStream - 1);
}
