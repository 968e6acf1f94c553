using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>What is told of a contest, for the time it was advanced to: who decides a slot and why, who else sends it, who decides which slots.</summary>
internal static class ContestAnswers
{
    /// <summary>Who decides a slot, from 0.</summary>
    public static IReadOnlyList<SlotCase> Cases(this Contest contest, int slot)
    {
        List<SlotCase> cases = [];
        ContestOutput output = contest.Output;
        int foremost = contest.Foremost;
        Outcome first = output.Now(foremost, slot);
        Outcome other = output.Now(1 - foremost, slot);
        bool agree = first.IsBySameSenders(other) && first.Rule == other.Rule;
        cases.Add(Case(output, agree ? WinCondition.Always : Condition(contest, foremost), foremost, slot));
        if (!agree)
        {
            cases.Add(Case(output, Condition(contest, 1 - foremost), 1 - foremost, slot));
        }

        if (contest.Sync != SyncState.None)
        {
            Outcome arrived = output.Next(foremost, slot);
            int level = Math.Max(arrived.Level(slot), -1);
            if (!arrived.IsBySameSenders(first) || level != cases[0].Value)
            {
                cases.Add(new SlotCase(WinCondition.WithoutSynchronization, arrived.Senders, arrived.Rule, null, level, null));
            }
        }

        return cases;
    }

    /// <summary>Every sender as it stands for a slot, from 0.</summary>
    public static IReadOnlyList<Contender> Contenders(this Contest contest, int slot) =>
    [
        .. contest.Places.OfType<Claim>().Where(claim => claim.IsLive)
            .Select(claim => new Contender(
                claim.Sender,
                claim.Level(slot),
                contest.Universe.Protocol == UniverseProtocol.Sacn ? claim.Priority : -1,
                claim.AddressPriority(slot),
                contest.IsLeftOut(claim),
                claim.Last))
            .OrderBy(contender => contender.LeftOut)
            .ThenByDescending(contender => contender.AddressPriority >= 0 ? contender.AddressPriority : contender.PacketPriority)
            .ThenByDescending(contender => contender.Value),
    ];

    /// <summary>Who decides which slots, as ranges; slots that no sender sends are left out.</summary>
    public static IReadOnlyList<WinnerRange> Ranges(this Contest contest)
    {
        ContestOutput output = contest.Output;
        List<WinnerRange> ranges = [];
        int from = 0;
        for (int slot = 1; slot <= Claim.Slots; slot++)
        {
            if (slot < Claim.Slots && output.Now(0, slot) == output.Now(0, from) && output.Now(1, slot) == output.Now(1, from))
            {
                continue;
            }

            if (output.Now(0, from).Rule != WinRule.NotSent || output.Now(1, from).Rule != WinRule.NotSent)
            {
                ranges.Add(new WinnerRange(
                    from + 1,
                    slot,
                    [.. contest.Cases(from).Where(each => each.Condition != WinCondition.WithoutSynchronization).Select(each => each with { Value = -1, Moved = null })]));
            }

            from = slot;
        }

        return ranges;
    }

    /// <summary>All there is to say about a slot.</summary>
    /// <param name="contest">The contest.</param>
    /// <param name="slot">1 to 512.</param>
    /// <param name="at">The time it was advanced to.</param>
    public static SlotAnswer Answer(this Contest contest, int slot, Timestamp at) => new()
    {
        Universe = contest.Universe,
        Slot = slot,
        At = at,
        Cases = contest.Cases(slot - 1),
        Contenders = contest.Contenders(slot - 1),
        Sync = contest.Sync,
        SyncAddress = contest.SyncAddress,
        LastSync = contest.LastSync,
        Mode = contest.Mode,
        RestsOnEarlier = contest.RestsOnEarlier,
    };

    /// <summary>Who decided the universe over time.</summary>
    /// <param name="contest">The contest.</param>
    /// <param name="now">The time it was advanced to.</param>
    /// <param name="alone">Whether one sender was alone all the time: then who wins which slot says nothing.</param>
    public static UniverseArbitration Summary(this Contest contest, Timestamp now, bool alone) => new()
    {
        Obeyed = contest.History.Spans(now, out long spansNotListed),
        ObeyedNotListed = spansNotListed,
        Winners = alone ? [] : contest.Ranges(),
        Changes = [.. contest.History.Changes],
        ChangesNotListed = contest.History.ChangesNotListed,
        FirstChangeNotListed = contest.History.FirstNotListed,
        Mode = contest.Mode,
        Sync = contest.Sync,
        SyncAddress = contest.SyncAddress,
        LastSync = contest.LastSync,
        HasAddressPriority = contest.HadAddressPriority,
    };

    /// <summary>Notes who decides the universe as a whole from a moment on: of those that take part the highest packet priority, or all where there is none.</summary>
    public static void NoteObeyed(this Contest contest, Timestamp at)
    {
        Claim?[] places = contest.Places;
        int top = -1;
        foreach (Claim? claim in places)
        {
            top = claim is { IsLive: true } ? Math.Max(top, contest.PriorityOf(claim)) : top;
        }

        Span<int> senders = stackalloc int[ClaimPlaces.Most];
        Span<int> ignored = stackalloc int[ClaimPlaces.Most];
        int count = 0;
        int left = 0;
        foreach (Claim? claim in places)
        {
            if (claim is not { IsLive: true })
            {
                continue;
            }

            if (contest.IsLeftOut(claim))
            {
                ignored[left++] = claim.Sender;
            }
            else if (contest.PriorityOf(claim) == top)
            {
                senders[count++] = claim.Sender;
            }
        }

        senders = senders[..count];
        ignored = ignored[..left];
        senders.Sort();
        ignored.Sort();
        contest.History.Settle(at, senders, ignored, top, contest.IsMergeCancelled && left > 0);
    }

    private static WinCondition Condition(Contest contest, int answer) => answer == 0 ? contest.First : contest.Second;

    private static SlotCase Case(ContestOutput output, WinCondition condition, int answer, int slot)
    {
        Outcome outcome = output.Now(answer, slot);
        return new SlotCase(condition, outcome.Senders, outcome.Rule, output.Since(answer, slot), output.Level(answer, slot), output.MoveOf(answer, slot));
    }
}
