using System.Globalization;
using DmxProbe.Analysis.Findings;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Puts an answer about a slot into words. Names are untrusted: whoever shows them escapes them.</summary>
/// <param name="name">What a sender is called, by its index.</param>
/// <param name="clock">How a moment is written.</param>
public sealed class SlotNarrator(Func<int, string> name, Func<Timestamp, string> clock)
{
    /// <summary>Who decides the slot and why, one sentence.</summary>
    public string Sentence(SlotAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        SlotCase[] cases = [.. answer.Cases.Where(each => each.Condition != WinCondition.WithoutSynchronization)];
        string place = Invariant($"{answer.Universe.Label} slot {answer.Slot} at {clock(answer.At)}");
        if (cases.Length == 1)
        {
            return $"{place}: {Whole(cases[0], answer)}.";
        }

        return $"{place} depends on the receiver: {string.Join("; ", cases.Select(each => $"{Receiver(each.Condition, answer)}: {Whole(each, answer)}"))}.";
    }

    /// <summary>Who moved it last, a sentence for each kind of receiver.</summary>
    public string Moved(SlotAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        SlotCase[] cases = [.. answer.Cases.Where(each => each.Condition != WinCondition.WithoutSynchronization)];
        if (cases.Length == 1 || cases.All(each => each.Moved == cases[0].Moved))
        {
            return "It " + Moved(cases[0].Moved) + ".";
        }

        string each = string.Join("; ", cases.Select(found => $"{Receiver(found.Condition, answer)} it {Moved(found.Moved)}"));
        return string.Concat(each[..1].ToUpperInvariant(), each.AsSpan(1), ".");
    }

    private string Moved(SlotMove? move)
    {
        if (move is null)
        {
            return "has not moved since the capture began";
        }

        string from = move.From < 0 ? "a level that could not be decided" : Number(move.From);
        string to = move.To < 0 ? "one that cannot be decided" : Number(move.To);
        return $"moved last at {clock(move.Time)}, from {from} to {to}: {Cause(move.Cause, move.MovedBy)}";
    }

    /// <summary>What synchronization does to it, one sentence; empty where it does nothing.</summary>
    public string Synchronization(SlotAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.Sync == SyncState.None)
        {
            return "";
        }

        string what = answer.SyncAddress > 0 ? Invariant($"a synchronization packet of address {answer.SyncAddress}") : "ArtSync";
        string last = answer.LastSync is Timestamp time ? $", last heard at {clock(time)}" : "";
        string arrived = answer.Cases.FirstOrDefault(each => each.Condition == WinCondition.WithoutSynchronization) is SlotCase waiting
            ? $" A receiver without synchronization already has {Level(waiting.Value)}."
            : "";
        return (answer.Sync == SyncState.Frozen
            ? $"The universe is frozen for receivers that know synchronization: levels arrive, but {what} is missing{last}, and Force_Synchronization is 0 (E1.31-2018 6.2.6, 11.1.2)."
            : $"The universe is held until {what}{last}.") + arrived;
    }

    /// <summary>Who decides and why, without level: a part of a sentence.</summary>
    public string Who(SlotCase found, IReadOnlyList<Contender> contenders)
    {
        ArgumentNullException.ThrowIfNull(found);
        string who = Names(found.Senders);
        string why = Why(found, contenders);
        return found.Rule switch
        {
            WinRule.Nobody or WinRule.NotSent or WinRule.NotSourced => $"nobody: {why}",
            WinRule.EqualPriority => $"cannot be decided, receivers differ: {who} have the same priority",
            WinRule.ReservedPriority => $"cannot be decided, receivers differ: among {who} is a per-address priority over 200, which is reserved",
            WinRule.NotListed => why,
            _ => $"{who}, {why}",
        };
    }

    /// <summary>Why it is they who decide: a part of a sentence without their names.</summary>
    public static string Why(SlotCase found, IReadOnlyList<Contender> contenders)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(contenders);
        return found.Rule switch
        {
            WinRule.Nobody => "every sender is lost or has ended, and receivers do what they are set to do then",
            WinRule.NotSent => "who is in charge does not send it, the packets are shorter",
            WinRule.NotSourced => "every sender gives it per-address priority 0, so it is 0",
            WinRule.OnlySender => "the only sender",
            WinRule.MergeCancelled => "alone since the merge was cancelled; the others are ignored",
            WinRule.PartnerLost => "alone since the sender it was merged with failed",
            WinRule.OnlySourced => "the only one of them that sources it",
            WinRule.HigherPriority => $"by the highest packet priority{Priority(found, contenders, each => each.PacketPriority)}",
            WinRule.AddressPriority => $"by the highest priority for this slot{Priority(found, contenders, each => each.AddressPriority >= 0 ? each.AddressPriority : each.PacketPriority)}",
            WinRule.EqualPriority => "cannot be decided: the same priority, receivers differ",
            WinRule.ReservedPriority => "cannot be decided: a per-address priority over 200, which is reserved",
            WinRule.HighestValue => "by the highest value",
            WinRule.EqualValue => "both with the same value",
            WinRule.LatestChange => "who changed it last",
            _ => "more senders than are kept apart",
        };
    }

    /// <summary>Of which receiver a case speaks.</summary>
    public static string Receiver(WinCondition condition, bool hasAddressPriority) => condition switch
    {
        WinCondition.SlotBySlot => hasAddressPriority ? "where the receiver follows per-address priority" : "where the receiver decides slot by slot",
        WinCondition.WholeUniverse => "where it takes the universe of the highest packet priority as a whole",
        WinCondition.HighestValue => "if the node merges by highest value (HTP)",
        WinCondition.LatestValue => "if it merges by latest value (LTP)",
        WinCondition.WithoutSynchronization => "without synchronization",
        _ => "everywhere",
    };

    /// <summary>What made a change, a part of a sentence.</summary>
    public string Cause(ChangeCause cause, int by)
    {
        string who = by < 0 ? "" : name(by);
        return cause switch
        {
            ChangeCause.SenderAppeared => $"{who} came",
            ChangeCause.SenderLost => $"{who} fell silent and counts as lost",
            ChangeCause.SenderEnded => $"{who} ended its stream",
            ChangeCause.PriorityChanged => $"{who} changed its priority",
            ChangeCause.AddressPriorityChanged => $"{who} changed its per-address priorities",
            ChangeCause.AddressPriorityLost => $"the per-address priorities of {who} ran out",
            ChangeCause.SlotCountChanged => $"{who} changed how many slots it sends",
            ChangeCause.LevelChanged => $"{who} changed its level",
            ChangeCause.MergeCancelled => $"the merge was cancelled, and {who} was the next to send",
            ChangeCause.MergeModeChanged => "the node was set to merge otherwise",
            _ => "a synchronization packet let it through",
        };
    }

    /// <summary>Several names as one list.</summary>
    public string Names(IReadOnlyList<int> senders)
    {
        ArgumentNullException.ThrowIfNull(senders);
        return Words.List(senders.Select(name));
    }

    private static string Receiver(WinCondition condition, SlotAnswer answer) =>
        Receiver(condition, answer.Contenders.Any(each => each.AddressPriority >= 0));

    private static string Priority(SlotCase found, IReadOnlyList<Contender> contenders, Func<Contender, int> of)
    {
        if (contenders.Count == 0)
        {
            return "";
        }

        int best = contenders.Where(each => found.Senders.Contains(each.Sender)).Select(of).DefaultIfEmpty(-1).Max();
        int next = contenders.Where(each => !found.Senders.Contains(each.Sender)).Select(of).Where(priority => priority <= best).DefaultIfEmpty(-1).Max();
        return best < 0 ? "" : next < 0 ? Invariant($" ({best})") : Invariant($" ({best}; the next has {next})");
    }

    private static string Level(int level) => level < 0 ? "a level that is not known" : Number(level);

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private string Whole(SlotCase found, SlotAnswer answer)
    {
        string who = Who(found, answer.Contenders);
        if (found.Senders.Count == 0)
        {
            return who + (found.Rule != WinRule.NotSourced && found.Value >= 0 ? Invariant($"; they had {found.Value} last") : "");
        }

        if (!found.IsDecided)
        {
            string values = string.Join(", ", answer.Contenders.Where(each => found.Senders.Contains(each.Sender)).Take(4).Select(each => $"{Level(each.Value)} from {name(each.Sender)}"));
            return found.Value >= 0 ? $"{Number(found.Value)} whomever they take; {who}" : $"{who}; {values}";
        }

        return $"{Level(found.Value)} from {who}";
    }
}
