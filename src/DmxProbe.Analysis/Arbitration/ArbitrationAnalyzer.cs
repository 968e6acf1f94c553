using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// Who decides each slot of each universe, and why: packet and per-address priority and synchronization in sACN, the merge
/// of two senders in Art-Net. A universe with one plain sender costs nothing but the look that tells so; everything else
/// is a <see cref="Contest"/>. docs/arbitration.md has the rules and what they rest on.
/// </summary>
public sealed class ArbitrationAnalyzer : IAnalyzer
{
    // Sequence steps that a receiver accepts are 1 to 236 in 8 bits; the rest are -19 to 0 (E1.31-2018 6.7.2).
    private const byte MostAcceptedStep = 236;

    private readonly PerIndex<UniverseEntry> _universes = new();
    private readonly MergeModes _modes = new();
    private readonly ContestSource _contests;
    private Timestamp _now = Timestamp.MinValue;

    /// <summary>Begins with nothing heard.</summary>
    /// <param name="levels">The levels of all streams, fed before this; null where there are none at hand.</param>
    public ArbitrationAnalyzer(LevelAnalyzer? levels = null) => _contests = new ContestSource(levels, _modes);

    /// <summary>
    /// Which universes are followed slot by slot, so that the level of each slot and its last move are known at any time;
    /// asked once for each universe. Null: none.
    /// </summary>
    public Func<UniverseId, bool>? Follow { get; init; }

    /// <summary>Room for changes beyond those usually kept; null: none.</summary>
    internal ChangeRoom? Room { get; init; }

    /// <summary>Counts the frames of plain senders that run in the place of this; null: nobody does.</summary>
    internal RunningStreams? Running
    {
        get => _contests.Running;
        set => _contests.Running = value;
    }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref UniverseEntry entry = ref _universes[frame.UniverseIndex];
        if (entry.OnlyStream == frame.Stream + 1
            && frame.Priority == entry.Priority
            && frame.StartCode == 0
            && (frame.Flags & UniverseEntry.Special) == 0
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

        Contest contest = _contests.CopyOf(in _universes[universe], _now);
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

        Contest contest = _contests.CopyOf(in _universes[universe], _now);
        List<SlotAnswer> answers = [];
        for (int slot = fromSlot; slot <= toSlot; slot++)
        {
            answers.Add(contest.Answer(slot, _now));
        }

        return answers;
    }

    /// <summary>Whether a frame just taken came from the only, plain sender of its universe: one like it decides nothing.</summary>
    internal bool IsOnly(in DmxFrame frame)
    {
        ref UniverseEntry entry = ref _universes[frame.UniverseIndex];
        return entry.OnlyStream == frame.Stream + 1
            && entry.Priority == frame.Priority
            && entry.SlotCount == frame.Slots.Length
            && entry.Sequence == frame.Sequence
            && entry.Last == frame.Time
            && (frame.Flags & UniverseEntry.Special) == 0;
    }

    /// <summary>Takes frames of the only sender that decided nothing.</summary>
    internal void Ran(int universe, int stream, byte sequence, Timestamp last)
    {
        ref UniverseEntry entry = ref _universes[universe];
        if (entry.OnlyStream == stream + 1)
        {
            entry.Sequence = sequence;
            entry.Last = last;
        }
    }

    private void Weigh(ref UniverseEntry entry, in DmxFrame frame)
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

            if (entry.Start(in frame, Follow?.Invoke(frame.Universe) ?? false, Room))
            {
                return;
            }
        }

        Contest contest = _contests.Of(ref entry);
        contest.Take(in frame);
        if (entry.OnlyStream == 0 && contest.Quiet is Claim quiet)
        {
            entry.Calm(quiet);
        }
    }

    private void Hold(Timestamp until)
    {
        for (int i = 0; i < _universes.Count; i++)
        {
            ref UniverseEntry entry = ref _universes[i];
            if (entry.History is null)
            {
                continue;
            }

            if (entry.OnlyStream != 0 && until - entry.Last <= entry.Loss)
            {
                entry.Last = until > entry.Last ? until : entry.Last;
                continue;
            }

            _contests.Of(ref entry).Hold(until);
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
            ref UniverseEntry entry = ref _universes[i];
            if (entry.History is null || entry.Universe.Protocol != UniverseProtocol.ArtNet || (entry.OnlyStream != 0 && entry.Host != host))
            {
                continue;
            }

            ((MergeContest)_contests.Of(ref entry)).Synchronize(host, at);
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
}
