using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// Who decided which slots at a time: for each slot and answer the last change up to then tells it; where there was none yet
/// the first one after it, by whom it was before; where there was none at all, whoever decides at the end.
/// </summary>
internal static class WinnersThen
{
    private const int Answers = 2;
    private const int Slots = Claim.Slots;

    /// <summary>Works it out.</summary>
    public static IReadOnlyList<WinnerRange> At(UniverseArbitration found, Timestamp at)
    {
        Standing[][] standing = [new Standing[Slots], new Standing[Slots]];
        bool isPriority = false;
        bool bySlot = false;
        foreach (WinnerChange change in found.Changes)
        {
            isPriority |= change.Condition is WinCondition.SlotBySlot or WinCondition.WholeUniverse;
            bySlot |= change.Time <= at && change is { Cause: ChangeCause.AddressPriorityChanged } or { Rule: WinRule.AddressPriority };
            for (int answer = 0; answer < Answers; answer++)
            {
                if (change.Condition == WinCondition.Always || AnswerOf(change.Condition) == answer)
                {
                    Take(standing[answer], change, at);
                }
            }
        }

        foreach (WinnerRange range in found.Winners)
        {
            foreach (SlotCase each in range.Cases)
            {
                isPriority |= each.Condition is WinCondition.SlotBySlot or WinCondition.WholeUniverse;
                for (int answer = 0; answer < Answers; answer++)
                {
                    if (each.Condition == WinCondition.Always || AnswerOf(each.Condition) == answer)
                    {
                        // Nobody at the end and no change before it: the slot was never sent.
                        Fill(standing[answer], range.FromSlot, range.ToSlot, new Standing(each.Senders, each.Senders.Count == 0 ? WinRule.NotSent : each.Rule, each.Since));
                    }
                }
            }
        }

        return Ranges(standing, isPriority && !bySlot ? 1 : 0, isPriority);
    }

    private static int AnswerOf(WinCondition condition) => condition is WinCondition.WholeUniverse or WinCondition.LatestValue ? 1 : 0;

    private static void Take(Standing[] standing, WinnerChange change, Timestamp at)
    {
        if (change.Time > at)
        {
            // Who was there before the first change; nobody else had sent these slots where nobody was.
            Fill(standing, change.FromSlot, change.ToSlot, new Standing(change.Before, change.Before.Count switch { 0 => WinRule.NotSent, 1 => WinRule.OnlySender, _ => WinRule.EqualPriority }, null));
            return;
        }

        standing.AsSpan((change.FromSlot - 1)..change.ToSlot).Fill(new Standing(change.After, change.Rule, change.Time));
    }

    // Only where nothing is known yet.
    private static void Fill(Standing[] standing, int from, int to, Standing with)
    {
        foreach (ref Standing each in standing.AsSpan((from - 1)..to))
        {
            each = each.Senders is null ? with : each;
        }
    }

    private static List<WinnerRange> Ranges(Standing[][] standing, int foremost, bool isPriority)
    {
        List<WinnerRange> ranges = [];
        int from = 0;
        for (int slot = 1; slot <= Slots; slot++)
        {
            if (slot < Slots && standing[0][slot].IsSame(standing[0][from]) && standing[1][slot].IsSame(standing[1][from]))
            {
                continue;
            }

            Standing first = standing[foremost][from];
            Standing other = standing[1 - foremost][from];
            if (first.IsSent || other.IsSent)
            {
                bool agree = first.IsBySame(other) && first.Rule == other.Rule;
                List<SlotCase> cases = [first.Case(agree ? WinCondition.Always : Condition(foremost, isPriority))];
                if (!agree)
                {
                    cases.Add(other.Case(Condition(1 - foremost, isPriority)));
                }

                ranges.Add(new WinnerRange(from + 1, slot, cases));
            }

            from = slot;
        }

        return ranges;
    }

    private static WinCondition Condition(int answer, bool isPriority) => (answer, isPriority) switch
    {
        (0, true) => WinCondition.SlotBySlot,
        (1, true) => WinCondition.WholeUniverse,
        (0, false) => WinCondition.HighestValue,
        _ => WinCondition.LatestValue,
    };

    private readonly record struct Standing(IReadOnlyList<int>? Senders, WinRule Rule, Timestamp? Since)
    {
        public bool IsSent => Senders is not null && Rule != WinRule.NotSent;

        public bool IsSame(Standing other) => Rule == other.Rule && IsBySame(other);

        public bool IsBySame(Standing other) =>
            ReferenceEquals(Senders, other.Senders) || (Senders is not null && other.Senders is not null && Senders.SequenceEqual(other.Senders));

        public SlotCase Case(WinCondition condition) => new(condition, Senders ?? [], Senders is null ? WinRule.NotSent : Rule, Since, -1, null);
    }
}
