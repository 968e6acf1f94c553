using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// Who decides each slot of each universe, and why: packet and per-address priority and synchronization in sACN, the merge
/// of two senders in Art-Net. A universe with one plain sender costs nothing but the look that tells so; everything else
/// is a <see cref="Contest"/>. docs/arbitration.md has the rules and what they rest on.
/// </summary>
/// <param name="levels">The levels of all streams, fed before this; null where there are none at hand.</param>
public sealed class ArbitrationAnalyzer(LevelAnalyzer? levels = null) : IAnalyzer
{
    // A packet that the fast way must not take: it may change who decides, or is no level.
    private const FrameFlags Special = FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.Damaged | FrameFlags.SlotsCut;

    // Sequence steps that a receiver accepts are 1 to 236 in 8 bits; the rest are -19 to 0 (E1.31-2018 6.7.2).
    private const byte MostAcceptedStep = 236;

    private readonly PerIndex<Entry> _universes = new();
    private readonly MergeModes _modes = new();
    private Timestamp _now = Timestamp.MinValue;

    /// <summary>
    /// Which universes are followed slot by slot, so that the level of each slot and its last move are known at any time;
    /// asked once for each universe. Null: none.
    /// </summary>
    public Func<UniverseId, bool>? Follow { get; init; }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Entry entry = ref _universes[frame.UniverseIndex];
        if (entry.OnlyStream == frame.Stream + 1
            && frame.Priority == entry.Priority
            && frame.StartCode == 0
            && (frame.Flags & Special) == 0
            && frame.SyncAddress == 0
            && frame.Slots.Length == entry.SlotCount
            && (!entry.HasPriority || unchecked((byte)(frame.Sequence - entry.Sequence - 1)) < MostAcceptedStep)
            && frame.Time - entry.Last <= entry.Loss)
        {
            // The usual case: one sender, still the same, nothing can have changed.
            entry.Last = frame.Time;
            entry.Sequence = frame.Sequence;
            return;
        }

        Weigh(ref entry, in frame);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        switch (linkEvent.Kind)
        {
            case LinkEventKind.CaptureLoss when linkEvent.B == 1:
                Hold(linkEvent.Time);
                break;
            case LinkEventKind.SacnSync:
                Synchronize((int)linkEvent.A, linkEvent.Time);
                break;
            case LinkEventKind.ArtSync:
                SynchronizeArtNet((uint)linkEvent.A, linkEvent.Time);
                break;
            case LinkEventKind.ArtOutput:
                if (_modes.Told(MergeModes.Output.Of(linkEvent.B), linkEvent.Universe.Number, linkEvent.A != 0))
                {
                    ModesChanged(linkEvent.Time);
                }

                break;
            case LinkEventKind.ArtMergeCommand:
                Command((int)linkEvent.A, linkEvent.B, linkEvent.Time);
                break;
            default:
                break;
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        if (now > _now)
        {
            _now = now;
        }
    }

    /// <summary>Who decided a universe over time, up to the time last told.</summary>
    /// <param name="universe">Index of the universe.</param>
    /// <returns>Null where no levels of it came.</returns>
    public UniverseArbitration? Snapshot(int universe)
    {
        if (universe >= _universes.Count || _universes[universe].History is not { } history)
        {
            return null;
        }

        if (_universes[universe] is { Contest: null, OnlyStream: not 0 } single && _now - single.Last <= single.Loss)
        {
            // One plain sender from the beginning, and still there: there is nothing to weigh.
            return new UniverseArbitration
            {
                Obeyed = history.Spans(_now, out long notListed),
                ObeyedNotListed = notListed,
                Winners = [],
                Changes = [],
                Mode = single.Universe.Protocol == UniverseProtocol.ArtNet ? _modes.Of(single.Universe.Number) : MergeMode.NotKnown,
            };
        }

        Contest contest = Copy(in _universes[universe]);
        bool alone = _universes[universe].Contest is null && contest.History.Changes.Count == 0;
        return contest.Summary(_now, alone);
    }

    /// <summary>Who decides a slot at the time last told, why, and who moved it last.</summary>
    /// <param name="universe">Index of the universe.</param>
    /// <param name="slot">1 to 512.</param>
    /// <returns>Null where no levels of the universe came.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No such slot.</exception>
    public SlotAnswer? Ask(int universe, int slot) => Ask(universe, slot, slot) is [SlotAnswer answer] ? answer : null;

    /// <summary>As <see cref="Ask(int, int)"/>, for a range of slots.</summary>
    /// <param name="universe">Index of the universe.</param>
    /// <param name="fromSlot">First slot, 1 to 512.</param>
    /// <param name="toSlot">Last slot, from <paramref name="fromSlot"/> to 512.</param>
    /// <returns>An answer a slot; empty where no levels of the universe came.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No such slots.</exception>
    public IReadOnlyList<SlotAnswer> Ask(int universe, int fromSlot, int toSlot)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fromSlot, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(toSlot, Claim.Slots);
        if (universe < 0 || universe >= _universes.Count || _universes[universe].History is null)
        {
            return [];
        }

        Contest contest = Copy(in _universes[universe]);
        List<SlotAnswer> answers = [];
        for (int slot = fromSlot; slot <= toSlot; slot++)
        {
            answers.Add(contest.Answer(slot, _now));
        }

        return answers;
    }

    private void Weigh(ref Entry entry, in DmxFrame frame)
    {
        if ((frame.Flags & FrameFlags.Preview) != 0)
        {
            return;
        }

        if (entry.OnlyStream == frame.Stream + 1 && frame.StartCode is not (0 or Protocols.Dmx512.StartCode.PerAddressPriority) && (frame.Flags & FrameFlags.Terminated) == 0)
        {
            // Another START code of the only sender: it counts in the same sequence and decides nothing.
            entry.Sequence = frame.Sequence;
            return;
        }

        if (entry.History is null)
        {
            if (frame.StartCode != 0 || (frame.Flags & FrameFlags.Terminated) != 0)
            {
                return;
            }

            if (Start(ref entry, in frame))
            {
                return;
            }
        }

        Contest contest = Contested(ref entry);
        contest.Take(in frame);
        if (entry.OnlyStream == 0 && contest.Quiet is Claim quiet)
        {
            Calm(ref entry, quiet);
        }
    }

    // The first levels of a universe. True where that is all: a plain sender, alone.
    private bool Start(ref Entry entry, in DmxFrame frame)
    {
        entry.History = new UniverseHistory();
        entry.Universe = frame.Universe;
        entry.HasPriority = frame.Universe.Protocol == UniverseProtocol.Sacn;
        entry.Loss = ProtocolTimes.LossOf(frame.Universe.Protocol);
        entry.Since = Timestamp.MinValue;
        entry.Follows = Follow?.Invoke(frame.Universe) ?? false;
        entry.History.Settle(frame.Time, [frame.Sender], [], entry.HasPriority ? frame.Priority : -1, isMergeCancelled: false);
        bool isPlain = !entry.Follows && frame.SyncAddress == 0 && (frame.Flags & Special) == 0;
        entry.OnlyStream = frame.Stream + 1;
        entry.Sender = frame.Sender;
        entry.Host = frame.Host;
        entry.Priority = frame.Priority;
        entry.SlotCount = (frame.Flags & FrameFlags.SlotsCut) != 0 ? Claim.Slots : frame.Slots.Length;
        entry.Last = frame.Time;

        // Where a contest begins at once, this very packet is still to be taken.
        entry.Sequence = isPlain ? frame.Sequence : unchecked((byte)(frame.Sequence - 1));
        return isPlain;
    }

    private static void Calm(ref Entry entry, Claim quiet)
    {
        entry.OnlyStream = quiet.Stream + 1;
        entry.Sender = quiet.Sender;
        entry.Host = quiet.Host;
        entry.Priority = quiet.Priority;
        entry.SlotCount = quiet.SlotCount;
        entry.Sequence = quiet.Sequence;
        entry.Last = quiet.Last;
    }

    // The contest of a universe, brought up to what the fast way let pass.
    private Contest Contested(ref Entry entry)
    {
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

    private Contest Make(in Entry entry, UniverseHistory history)
    {
        Contest contest = entry.HasPriority
            ? new PriorityContest(entry.Universe, history)
            : new MergeContest(entry.Universe, history, _modes);
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

    private ReadOnlySpan<byte> LevelsOf(in Entry entry) => levels is null ? [] : levels.Levels(entry.OnlyStream - 1);

    // On a copy: what is asked for early must not change what is found later.
    private Contest Copy(in Entry entry)
    {
        Entry copy = entry;
        copy.Contest = entry.Contest?.Copy();
        copy.History = copy.Contest?.History ?? entry.History!.Copy();
        Contest contest = Contested(ref copy);
        contest.Advance(_now);
        (contest as PriorityContest)?.At(_now);
        return contest;
    }

    private void Hold(Timestamp until)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            ref Entry entry = ref _universes[i];
            if (entry.History is null)
            {
                continue;
            }

            if (entry.OnlyStream != 0 && until - entry.Last <= entry.Loss)
            {
                entry.Last = until > entry.Last ? until : entry.Last;
                continue;
            }

            Contested(ref entry).Hold(until);
        }
    }

    private void Synchronize(int address, Timestamp at)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            // A sender that asks for synchronization is never taken the fast way.
            if (_universes[i].Contest is PriorityContest contest && _universes[i].OnlyStream == 0)
            {
                contest.Synchronize(address, at);
            }
        }
    }

    private void SynchronizeArtNet(uint host, Timestamp at)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            ref Entry entry = ref _universes[i];
            if (entry.History is null || entry.Universe.Protocol != UniverseProtocol.ArtNet || (entry.OnlyStream != 0 && entry.Host != host))
            {
                continue;
            }

            ((MergeContest)Contested(ref entry)).Synchronize(host, at);
        }
    }

    private void ModesChanged(Timestamp at)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            (_universes[i].Contest as MergeContest)?.ModeMayHaveChanged(at);
        }
    }

    private void Command(int command, long node, Timestamp at)
    {
        MergeOrder order = MergeOrder.Of(command, node);
        if (order.Kind == MergeOrderKind.Cancel)
        {
            foreach (int portAddress in _modes.OutputsOf(order.Output.Node, order.Output.BindIndex))
            {
                Cancel(new UniverseId(UniverseProtocol.ArtNet, portAddress));
            }
        }
        else if (order.Kind is MergeOrderKind.Latest or MergeOrderKind.Highest && _modes.Set(order.Output, order.Kind == MergeOrderKind.Latest) >= 0)
        {
            ModesChanged(at);
        }
    }

    private void Cancel(UniverseId universe)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            if (_universes[i].Contest is MergeContest contest && contest.Universe == universe && _universes[i].OnlyStream == 0)
            {
                contest.Cancel();
            }
        }
    }

    private struct Entry
    {
        /// <summary>Stream of the only sender + 1 while the fast way holds; else 0.</summary>
        public int OnlyStream;
        public int SlotCount;
        public byte Priority;
        public byte Sequence;
        public bool HasPriority;
        public bool Follows;
        public Timestamp Last;
        public Duration Loss;
        public int Sender;
        public uint Host;
        public UniverseId Universe;
        public Timestamp Since;
        public UniverseHistory? History;
        public Contest? Contest;
    }
}
