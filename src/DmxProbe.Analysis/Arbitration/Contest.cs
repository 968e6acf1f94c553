using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// One universe that more than a single plain sender wants, as a conforming receiver has it: what has arrived decides
/// what comes next, and unless synchronization holds it back that is what is put out. Two answers are kept side by side
/// where receivers have a choice (see <see cref="First"/> and <see cref="Second"/>). Time-outs take effect at their own
/// moments, so nothing depends on how often time is told.
/// </summary>
internal abstract class Contest
{
    /// <summary>Most senders of a universe that are weighed at a time; a further one displaces a weaker one or is counted.</summary>
    public const int MostClaims = 64;

    private const int Answers = 2;
    private const int Slots = Claim.Slots;

    private readonly Duration _loss;
    private Claim?[] _places = new Claim?[4];
    private Outcome[][] _now = [new Outcome[Slots], new Outcome[Slots]];
    private Outcome[][] _next = [new Outcome[Slots], new Outcome[Slots]];
    private Timestamp[][] _since = [new Timestamp[Slots], new Timestamp[Slots]];
    private Levels? _levels;
    private OutcomeTable _outcomes = new();
    private UniverseHistory _history;
    private bool _differs;

    /// <summary>Makes an empty contest.</summary>
    protected Contest(UniverseId universe, UniverseHistory history)
    {
        Universe = universe;
        _history = history;
        _loss = ProtocolTimes.LossOf(universe.Protocol);
        for (int answer = 0; answer < Answers; answer++)
        {
            Array.Fill(_now[answer], Outcome.Nobody);
            Array.Fill(_next[answer], Outcome.Nobody);
            Array.Fill(_since[answer], Timestamp.MinValue);
        }
    }

    /// <summary>The universe.</summary>
    public UniverseId Universe { get; }

    /// <summary>Its past.</summary>
    public UniverseHistory History => _history;

    /// <summary>The receivers of the first answer.</summary>
    protected abstract WinCondition First { get; }

    /// <summary>The receivers of the second answer.</summary>
    protected abstract WinCondition Second { get; }

    /// <summary>Which of the two answers is named first: 0 or 1.</summary>
    protected abstract int Foremost { get; }

    /// <summary>The senders, by place; null where a place is free.</summary>
    protected ReadOnlySpan<Claim?> Places => _places;

    /// <summary>Senders that found no place.</summary>
    public long ClaimsNotListed { get; private set; }

    /// <summary>The only sender, where it is alone and plain, so that nothing can change until something else comes; else null.</summary>
    public Claim? Quiet => _levels is null && IsPlain && Single() is { IsLive: true, HasAddressPriority: false, SyncAddress: 0 } claim ? claim : null;

    /// <summary>Whether nothing but its senders bears on the universe.</summary>
    protected abstract bool IsPlain { get; }

    /// <summary>Whether synchronization holds the universe.</summary>
    public abstract SyncState Sync { get; }

    /// <summary>The sACN synchronization address waited for; 0 where none is.</summary>
    public virtual int SyncAddress => 0;

    /// <summary>The last synchronization packet that counted; null before one.</summary>
    public abstract Timestamp? LastSync { get; }

    /// <summary>Whether something that came long before may still bear on the universe, so that a short look back does not do.</summary>
    public abstract bool RestsOnEarlier { get; }

    /// <summary>How the nodes of an Art-Net Port-Address merge.</summary>
    public virtual MergeMode Mode => MergeMode.NotKnown;

    /// <summary>Whether a source's per-address priorities counted at some time.</summary>
    public virtual bool HadAddressPriority => false;

    /// <summary>From now on the level of each slot and its last move are kept.</summary>
    public void Follow() => _levels ??= new Levels();

    /// <summary>Takes over a sender that was alone, as it was left.</summary>
    public void Begin(Claim claim, Timestamp since)
    {
        Place(claim);
        DecideAnew();
        for (int answer = 0; answer < Answers; answer++)
        {
            _next[answer].CopyTo(_now[answer], 0);
            Array.Fill(_since[answer], since);
        }

        _differs = false;

        _levels?.Begin(_now);
    }

    /// <summary>Takes a frame.</summary>
    public void Take(in DmxFrame frame)
    {
        Advance(frame.Time);
        Claim? claim = Find(frame.Stream);
        bool ends = (frame.Flags & FrameFlags.Terminated) != 0;
        if (claim is not null && !ends && IsOutOfOrder(claim, in frame))
        {
            return;
        }

        if (ends)
        {
            End(claim, frame.Time);
        }
        else if (frame.StartCode == StartCode.Null)
        {
            if (claim is null && (claim = Add(in frame)) is null)
            {
                ClaimsNotListed++;
                return;
            }

            TakeLevels(claim, in frame);
        }
        else if (frame.StartCode == StartCode.PerAddressPriority && Universe.Protocol == UniverseProtocol.Sacn)
        {
            claim ??= Add(in frame);
            if (claim is not null)
            {
                TakeAddressPriorities(claim, in frame);
            }
        }
        else if (claim is not null)
        {
            claim.Sequence = frame.Sequence;
        }
    }

    /// <summary>Lets time pass: what ran out before it takes effect, each at its own moment.</summary>
    public void Advance(Timestamp now)
    {
        while (true)
        {
            Claim? due = null;
            bool isPriority = false;
            Timestamp at = DueOfSync(now);
            foreach (Claim? claim in _places)
            {
                if (claim is null)
                {
                    continue;
                }

                if (claim.IsLive && now - claim.Last > _loss && claim.Last + _loss < at)
                {
                    (due, isPriority, at) = (claim, false, claim.Last + _loss);
                }

                if (claim.HasAddressPriority && now - claim.LastAddressPriority > ProtocolTimes.SacnLoss
                    && claim.LastAddressPriority + ProtocolTimes.SacnLoss < at)
                {
                    (due, isPriority, at) = (claim, true, claim.LastAddressPriority + ProtocolTimes.SacnLoss);
                }
            }

            if (due is null)
            {
                if (at == Timestamp.MaxValue)
                {
                    return;
                }

                SyncRunsOut();
                continue;
            }

            RunOut(due, isPriority, at);
        }
    }

    /// <summary>The capture did not listen until now: whoever was there is not gone for that.</summary>
    public void Hold(Timestamp until)
    {
        Advance(until);
        foreach (Claim? claim in _places)
        {
            if (claim is not null)
            {
                claim.Last = Later(claim.Last, until);
                claim.LastAddressPriority = Later(claim.LastAddressPriority, until);
            }
        }
    }

    /// <summary>Who decides a slot, from 0, for the time advanced to.</summary>
    public IReadOnlyList<SlotCase> Cases(int slot)
    {
        List<SlotCase> cases = [];
        int foremost = Foremost;
        Outcome first = _now[foremost][slot];
        Outcome other = _now[1 - foremost][slot];
        bool agree = first.IsBySameSenders(other) && first.Rule == other.Rule;
        cases.Add(Case(agree ? WinCondition.Always : Condition(foremost), foremost, slot));
        if (!agree)
        {
            cases.Add(Case(Condition(1 - foremost), 1 - foremost, slot));
        }

        if (Sync != SyncState.None)
        {
            Outcome arrived = _next[foremost][slot];
            int level = Math.Max(arrived.Level(slot), -1);
            if (!arrived.IsBySameSenders(first) || level != cases[0].Value)
            {
                cases.Add(new SlotCase(WinCondition.WithoutSynchronization, arrived.Senders, arrived.Rule, null, level, null));
            }
        }

        return cases;
    }

    /// <summary>Every sender as it stands for a slot, from 0.</summary>
    public IReadOnlyList<Contender> Contenders(int slot) =>
    [
        .. _places.OfType<Claim>().Where(claim => claim.IsLive)
            .Select(claim => new Contender(
                claim.Sender,
                claim.Level(slot),
                Universe.Protocol == UniverseProtocol.Sacn ? claim.Priority : -1,
                claim.AddressPriority(slot),
                IsLeftOut(claim),
                claim.Last))
            .OrderBy(contender => contender.LeftOut)
            .ThenByDescending(contender => contender.AddressPriority >= 0 ? contender.AddressPriority : contender.PacketPriority)
            .ThenByDescending(contender => contender.Value),
    ];

    /// <summary>Who decides which slots, as ranges; slots that no sender sends are left out.</summary>
    public IReadOnlyList<WinnerRange> Ranges()
    {
        List<WinnerRange> ranges = [];
        int from = 0;
        for (int slot = 1; slot <= Slots; slot++)
        {
            if (slot < Slots && _now[0][slot] == _now[0][from] && _now[1][slot] == _now[1][from])
            {
                continue;
            }

            if (_now[0][from].Rule != WinRule.NotSent || _now[1][from].Rule != WinRule.NotSent)
            {
                ranges.Add(new WinnerRange(from + 1, slot, [.. Cases(from).Where(each => each.Condition != WinCondition.WithoutSynchronization).Select(each => each with { Value = -1, Moved = null })]));
            }

            from = slot;
        }

        return ranges;
    }

    /// <summary>A copy whose course leaves this as it is.</summary>
    public Contest Copy()
    {
        Contest copy = (Contest)MemberwiseClone();
        Dictionary<Claim, Claim> claims = [];
        Dictionary<Outcome, Outcome> outcomes = [];
        Claim Other(Claim claim)
        {
            if (!claims.TryGetValue(claim, out Claim? own))
            {
                claims.Add(claim, own = claim.Copy());
            }

            return own;
        }

        Outcome Same(Outcome outcome)
        {
            if (!outcomes.TryGetValue(outcome, out Outcome? own))
            {
                own = outcome.Claims.Length == 0 ? outcome : new Outcome([.. outcome.Claims.Select(Other)], outcome.Rule);
                outcomes.Add(outcome, own);
            }

            return own;
        }

        copy._places = [.. _places.Select(claim => claim is null ? null : Other(claim))];
        copy._now = [.. _now.Select(answer => answer.Select(Same).ToArray())];
        copy._next = [.. _next.Select(answer => answer.Select(Same).ToArray())];
        copy._since = [.. _since.Select(answer => answer.ToArray())];
        copy._levels = _levels?.Copy();
        copy._outcomes = new OutcomeTable();
        copy._history = _history.Copy();
        copy.Copied(claim => claim is null ? null : Other(claim));
        return copy;
    }

    /// <summary>Works out what comes next from the senders as they are.</summary>
    protected abstract void Decide();

    /// <summary>Whether synchronization holds what has arrived back at a time.</summary>
    protected abstract bool Holds(Timestamp at);

    /// <summary>When synchronization runs out, if that is before a time; else <see cref="Timestamp.MaxValue"/>.</summary>
    protected abstract Timestamp DueOfSync(Timestamp now);

    /// <summary>It has run out.</summary>
    protected abstract void SyncRunsOut();

    /// <summary>Whether a receiver discards the packet as out of order.</summary>
    protected abstract bool IsOutOfOrder(Claim claim, in DmxFrame frame);

    /// <summary>A sender's levels were taken; what the protocol makes of them beyond their values.</summary>
    /// <param name="claim">Whose.</param>
    /// <param name="frame">The frame.</param>
    /// <param name="cause">What they changed.</param>
    /// <returns>What they changed, with what this protocol adds; null where <see cref="Decide"/> would give the same as before.</returns>
    protected abstract ChangeCause? Taken(Claim claim, in DmxFrame frame, ChangeCause? cause);

    /// <summary>The number under which a claim's level changes are kept; 0 where they need not be.</summary>
    protected abstract long NextOrder();

    /// <summary>A sender is gone.</summary>
    protected abstract void Gone(Claim claim);

    /// <summary>Whether a sender takes no part, though it is there.</summary>
    protected abstract bool IsLeftOut(Claim claim);

    /// <summary>Whether one sender is in sole control because a merge was cancelled.</summary>
    protected virtual bool IsMergeCancelled => false;

    /// <summary>The priority that is said of a universe as a whole; -1 where the protocol has none.</summary>
    protected abstract int PriorityOf(Claim claim);

    /// <summary>This is a copy: what it holds of claims is to be replaced.</summary>
    protected virtual void Copied(Func<Claim?, Claim?> other)
    {
    }

    /// <summary>Says what comes next for a slot.</summary>
    protected void Say(int answer, int slot, ulong set, WinRule rule) => _next[answer][slot] = _outcomes.Of(_places, set, rule);

    /// <summary>Decides anew, and puts it out unless synchronization holds it back.</summary>
    protected void Settle(Timestamp at, ChangeCause cause, int by)
    {
        DecideAnew();
        Obeyed(at);
        Release(at, cause, by);
    }

    /// <summary>Puts out what has arrived, unless synchronization holds it back.</summary>
    protected void Release(Timestamp at, ChangeCause cause, int by)
    {
        if (!Holds(at))
        {
            PutOut(at, cause, by, silently: false);
        }
    }

    /// <summary>Works out what comes next; it is put out later.</summary>
    protected void DecideAnew()
    {
        Decide();
        _differs = true;
    }

    /// <summary>Puts out what has arrived.</summary>
    /// <param name="at">When.</param>
    /// <param name="cause">Why.</param>
    /// <param name="by">By whom; -1 for nobody.</param>
    /// <param name="silently">True where not the senders changed but what is known of the receivers.</param>
    protected void PutOut(Timestamp at, ChangeCause cause, int by, bool silently)
    {
        int slot = _differs ? 0 : Slots;
        while (slot < Slots)
        {
            Outcome first = _now[0][slot];
            Outcome second = _now[1][slot];
            Outcome nextFirst = _next[0][slot];
            Outcome nextSecond = _next[1][slot];
            int end = slot + 1;
            while (end < Slots && _now[0][end] == first && _now[1][end] == second && _next[0][end] == nextFirst && _next[1][end] == nextSecond)
            {
                end++;
            }

            if (first != nextFirst || second != nextSecond)
            {
                Change(slot, end, at, cause, by, silently);
            }

            slot = end;
        }

        _differs = false;
        _levels?.Take(_now, at, cause, by);
    }

    private static Timestamp Later(Timestamp left, Timestamp right) => left > right ? left : right;

    private void Change(int slot, int end, Timestamp at, ChangeCause cause, int by, bool silently)
    {
        Outcome first = _now[0][slot];
        Outcome second = _now[1][slot];
        Outcome nextFirst = _next[0][slot];
        Outcome nextSecond = _next[1][slot];
        bool firstMoves = !first.IsBySameSenders(nextFirst);
        bool secondMoves = !second.IsBySameSenders(nextSecond);
        if (!silently)
        {
            bool both = first.IsBySameSenders(second) && nextFirst.IsBySameSenders(nextSecond);
            if (firstMoves)
            {
                Tell(both ? WinCondition.Always : First, first, nextFirst);
            }

            if (secondMoves && !both)
            {
                Tell(Second, second, nextSecond);
            }
        }

        Replace(0, nextFirst, firstMoves);
        Replace(1, nextSecond, secondMoves);

        void Tell(WinCondition condition, Outcome before, Outcome after)
        {
            if (_history.Wants(cause))
            {
                _history.Add(new WinnerChange(at, slot + 1, end, condition, before.Senders, after.Senders, after.Rule, cause, by));
            }
        }

        void Replace(int answer, Outcome next, bool moves)
        {
            Array.Fill(_now[answer], next, slot, end - slot);
            if (moves)
            {
                Array.Fill(_since[answer], at, slot, end - slot);
            }
        }
    }

    private WinCondition Condition(int answer) => answer == 0 ? First : Second;

    private SlotCase Case(WinCondition condition, int answer, int slot)
    {
        Outcome outcome = _now[answer][slot];
        Timestamp since = _since[answer][slot];
        int level = _levels is null ? Math.Max(outcome.Level(slot), -1) : _levels.Of(answer, slot);
        return new SlotCase(condition, outcome.Senders, outcome.Rule, since == Timestamp.MinValue ? null : since, level, _levels?.MoveOf(answer, slot));
    }

    private Claim? Find(int stream)
    {
        foreach (Claim? claim in _places)
        {
            if (claim?.Stream == stream)
            {
                return claim;
            }
        }

        return null;
    }

    private Claim? Single()
    {
        Claim? single = null;
        foreach (Claim? claim in _places)
        {
            if (claim is not null)
            {
                if (single is not null)
                {
                    return null;
                }

                single = claim;
            }
        }

        return single;
    }

    private Claim? Add(in DmxFrame frame)
    {
        Claim claim = new() { Stream = frame.Stream, Sender = frame.Sender, Host = frame.Host, Priority = frame.Priority, Sequence = frame.Sequence };
        return Place(claim) ? claim : null;
    }

    private bool Place(Claim claim)
    {
        int free = Array.IndexOf(_places, null);
        if (free < 0 && _places.Length < MostClaims)
        {
            free = _places.Length;
            Array.Resize(ref _places, free * 2);
        }

        if (free < 0)
        {
            // A flood of weak senders must not hide a strong one.
            int weakest = 0;
            for (int i = 1; i < _places.Length; i++)
            {
                weakest = _places[i]!.Priority < _places[weakest]!.Priority ? i : weakest;
            }

            if (_places[weakest]!.Priority >= claim.Priority)
            {
                return false;
            }

            Gone(_places[weakest]!);
            ClaimsNotListed++;
            free = weakest;
        }

        claim.Place = free;
        _places[free] = claim;
        _outcomes.Clear();
        return true;
    }

    private void Remove(Claim claim)
    {
        _places[claim.Place] = null;
        _outcomes.Clear();
        Gone(claim);
    }

    private void End(Claim? claim, Timestamp at)
    {
        if (claim is not null)
        {
            Remove(claim);
            Settle(at, ChangeCause.SenderEnded, claim.Sender);
        }
    }

    private void RunOut(Claim claim, bool isPriority, Timestamp at)
    {
        if (isPriority)
        {
            claim.HasAddressPriority = false;
        }
        else
        {
            claim.IsLive = false;
            Gone(claim);
        }

        if (!claim.IsLive && !claim.HasAddressPriority)
        {
            Remove(claim);
        }

        Settle(at, isPriority ? ChangeCause.AddressPriorityLost : ChangeCause.SenderLost, claim.Sender);
    }

    private void TakeLevels(Claim claim, in DmxFrame frame)
    {
        ChangeCause? cause = null;
        if (!claim.IsLive)
        {
            claim.IsLive = true;
            claim.Forget();
            cause = ChangeCause.SenderAppeared;
        }
        else if (claim.Priority != frame.Priority && Universe.Protocol == UniverseProtocol.Sacn)
        {
            cause = ChangeCause.PriorityChanged;
        }

        int count = claim.SlotCount;
        bool levelsMoved = (frame.Flags & FrameFlags.Damaged) == 0
            && claim.TakeLevels(frame.Slots, (frame.Flags & FrameFlags.SlotsCut) != 0, NextOrder());
        cause ??= claim.SlotCount != count ? ChangeCause.SlotCountChanged : levelsMoved ? ChangeCause.LevelChanged : null;
        claim.Priority = frame.Priority;
        claim.Last = frame.Time;
        claim.Sequence = frame.Sequence;
        claim.SyncAddress = frame.SyncAddress;
        claim.ForcesSync = (frame.Flags & FrameFlags.ForceSynchronization) != 0;
        if (frame.SyncAddress != 0)
        {
            FollowLevels();
        }

        if (Taken(claim, in frame, cause) is ChangeCause decided)
        {
            Settle(frame.Time, decided, claim.Sender);
        }
        else
        {
            Release(frame.Time, cause ?? ChangeCause.LevelChanged, claim.Sender);
        }
    }

    /// <summary>What is held back must be told from what has arrived: the levels put out are kept.</summary>
    protected void FollowLevels()
    {
        if (_levels is null)
        {
            _levels = new Levels();
            _levels.Begin(_now);
        }
    }

    private void TakeAddressPriorities(Claim claim, in DmxFrame frame)
    {
        claim.Sequence = frame.Sequence;
        claim.LastAddressPriority = frame.Time;
        bool isCut = (frame.Flags & (FrameFlags.SlotsCut | FrameFlags.Damaged)) != 0;
        if (!isCut && claim.TakeAddressPriorities(frame.Slots) && claim.IsLive)
        {
            Settle(frame.Time, ChangeCause.AddressPriorityChanged, claim.Sender);
        }
    }

    // Who decides the universe as a whole: of those that take part the highest packet priority, or all where there is none.
    private void Obeyed(Timestamp at)
    {
        int top = -1;
        foreach (Claim? claim in _places)
        {
            top = claim is { IsLive: true } ? Math.Max(top, PriorityOf(claim)) : top;
        }

        Span<int> senders = stackalloc int[MostClaims];
        Span<int> ignored = stackalloc int[MostClaims];
        int count = 0;
        int left = 0;
        foreach (Claim? claim in _places)
        {
            if (claim is not { IsLive: true })
            {
                continue;
            }

            if (IsLeftOut(claim))
            {
                ignored[left++] = claim.Sender;
            }
            else if (PriorityOf(claim) == top)
            {
                senders[count++] = claim.Sender;
            }
        }

        senders = senders[..count];
        ignored = ignored[..left];
        senders.Sort();
        ignored.Sort();
        _history.Settle(at, senders, ignored, top, IsMergeCancelled && left > 0);
    }
}
