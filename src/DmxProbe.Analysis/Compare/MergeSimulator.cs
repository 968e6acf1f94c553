using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>
/// What a gateway that follows a rule would put out after each packet of a universe: the changes of its output. A sender is
/// gone after its protocol's loss time or at its end packet; when all are gone the output stays as it is.
/// </summary>
internal static class MergeSimulator
{
    /// <summary>The changes of the output, oldest first.</summary>
    /// <param name="tap">The network tap.</param>
    /// <param name="streams">All senders of one universe.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="slots">Slots of the output: shorter packets are filled with 0, longer ones cut.</param>
    public static List<OutputChange> Run(TapRecording tap, IReadOnlyList<TapStream> streams, MergeRule rule, int slots)
    {
        List<(TapFrame Frame, int Sender)> packets =
        [
            .. streams.SelectMany((stream, sender) => stream.Frames.Where(frame => !frame.IsDamaged).Select(frame => (frame, sender)))
                .OrderBy(packet => packet.frame.Time),
        ];
        Duration loss = ProtocolTimes.LossOf(streams[0].Universe.Protocol);
        Sender[] senders = [.. streams.Select(_ => new Sender(slots))];
        byte[] output = new byte[slots];
        List<OutputChange> changes = [];
        long order = 0;
        foreach ((TapFrame frame, int index) in packets)
        {
            Sender sender = senders[index];
            Expire(senders, frame.Time, loss);
            if (frame.IsEnd)
            {
                sender.IsPresent = false;
            }
            else
            {
                sender.Take(tap.Slots(frame.Content), frame, ++order);
            }

            Compose(senders, rule, output);
            if (changes.Count == 0 ? Array.Exists(senders, each => each.IsPresent) : !output.AsSpan().SequenceEqual(changes[^1].Slots))
            {
                changes.Add(new OutputChange(frame.Time, [.. output], SlotHash.Of(output, slots)));
            }
        }

        return changes;
    }

    private static void Expire(Sender[] senders, Timestamp now, Duration loss)
    {
        foreach (Sender sender in senders)
        {
            if (sender.IsPresent && now - sender.Last > loss)
            {
                sender.IsPresent = false;
            }
        }
    }

    private static void Compose(Sender[] senders, MergeRule rule, byte[] output)
    {
        bool byPriority = rule is MergeRule.PriorityHighestValue or MergeRule.PriorityLatestPacket;
        int top = -1;
        Sender? one = null;
        foreach (Sender sender in senders)
        {
            top = sender.IsPresent && byPriority ? Math.Max(top, sender.Priority) : top;
        }

        bool any = false;
        for (int slot = 0; slot < output.Length && rule is MergeRule.PriorityHighestValue or MergeRule.HighestValue or MergeRule.LatestChange; slot++)
        {
            int value = -1;
            long latest = -1;
            foreach (Sender sender in senders)
            {
                if (!sender.IsPresent || (byPriority && sender.Priority != top))
                {
                    continue;
                }

                any = true;
                if (rule == MergeRule.LatestChange ? sender.ChangedAt[slot] > latest : sender.Levels[slot] > value)
                {
                    value = sender.Levels[slot];
                    latest = sender.ChangedAt[slot];
                }
            }

            if (!any)
            {
                return;
            }

            output[slot] = (byte)value;
        }

        foreach (Sender sender in senders)
        {
            bool takesPart = sender.IsPresent && (!byPriority || sender.Priority == top);
            bool isBetter = takesPart && (one is null || (rule == MergeRule.FirstSender ? sender.Since < one.Since : sender.Order > one.Order));
            one = isBetter ? sender : one;
        }

        if (rule is MergeRule.PriorityLatestPacket or MergeRule.LatestPacket or MergeRule.FirstSender && one is not null)
        {
            one.Levels.CopyTo(output, 0);
        }
    }

    private sealed class Sender(int slots)
    {
        public byte[] Levels { get; } = new byte[slots];

        public long[] ChangedAt { get; } = new long[slots];

        public bool IsPresent { get; set; }

        public Timestamp Last { get; private set; }

        public int Priority { get; private set; }

        public long Order { get; private set; }

        public long Since { get; private set; }

        public void Take(ReadOnlySpan<byte> levels, TapFrame frame, long order)
        {
            for (int slot = 0; slot < Levels.Length; slot++)
            {
                byte level = slot < levels.Length ? levels[slot] : (byte)0;
                if (!IsPresent || level != Levels[slot])
                {
                    Levels[slot] = level;
                    ChangedAt[slot] = order;
                }
            }

            Since = IsPresent ? Since : order;
            IsPresent = true;
            Last = frame.Time;
            Priority = frame.Priority;
            Order = order;
        }
    }
}
