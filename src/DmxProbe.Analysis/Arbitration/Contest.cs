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
    private readonly Duration _loss;
    private ClaimPlaces _places = new();
    private ContestOutput _output;
    private UniverseHistory _history;

    /// <summary>Makes an empty contest.</summary>
    protected Contest(UniverseId universe, UniverseHistory history)
    {
        Universe = universe;
        _history = history;
        _output = new ContestOutput(history);
        _loss = ProtocolTimes.LossOf(universe.Protocol);
    }

    /// <summary>The universe.</summary>
    public UniverseId Universe { get; }

    /// <summary>Its past.</summary>
    public UniverseHistory History => _history;

    /// <summary>The receivers of the first answer.</summary>
    public abstract WinCondition First { get; }

    /// <summary>The receivers of the second answer.</summary>
    public abstract WinCondition Second { get; }

    /// <summary>Which of the two answers is named first: 0 or 1.</summary>
    public abstract int Foremost { get; }

    /// <summary>The senders, by place; null where a place is free.</summary>
    public Claim?[] Places => _places.All;

    /// <summary>What receivers put out, and what comes next.</summary>
    public ContestOutput Output => _output;

    /// <summary>Senders that found no place.</summary>
    public long ClaimsNotListed { get; private set; }

    /// <summary>The only sender, where it is alone and plain, so that nothing can change until something else comes; else null.</summary>
    public Claim? Quiet => !_output.HasLevels && IsPlain && _places.Single() is { IsLive: true, HasAddressPriority: false, SyncAddress: 0 } claim ? claim : null;

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
    public void Follow() => _output.Follow();

    /// <summary>Takes over a sender that was alone, as it was left.</summary>
    public void Begin(Claim claim, Timestamp since)
    {
        Place(claim);
        DecideAnew();
        _output.Begin(since);
    }

    /// <summary>Takes a frame.</summary>
    public void Take(in DmxFrame frame)
    {
        Advance(frame.Time);
        Claim? claim = _places.Find(frame.Stream);
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
            Timestamp at = DueOfSync(now);
            Claim? due = _places.Due(now, _loss, ref at, out bool isPriority);
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
        _places.Hold(until);
    }

    /// <summary>A copy whose course leaves this as it is.</summary>
    public Contest Copy()
    {
        Contest copy = (Contest)MemberwiseClone();
        ClaimCopies claims = new();

        // MemberwiseClone shares what is a reference: each of them is replaced.
        copy._places = _places.Copy(claims.Of);
        copy._history = _history.Copy();
        copy._output = _output.Copy(copy._history, claims.Of);
        copy.Copied(claim => claim is null ? null : claims.Of(claim));
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
    public abstract bool IsLeftOut(Claim claim);

    /// <summary>Whether one sender is in sole control because a merge was cancelled.</summary>
    public virtual bool IsMergeCancelled => false;

    /// <summary>The priority that is said of a universe as a whole; -1 where the protocol has none.</summary>
    public abstract int PriorityOf(Claim claim);

    /// <summary>This is a copy: what it holds of claims is to be replaced.</summary>
    protected virtual void Copied(Func<Claim?, Claim?> other)
    {
    }

    /// <summary>Says what comes next for a slot.</summary>
    protected void Say(int answer, int slot, ulong set, WinRule rule) => _output.Say(answer, slot, _places.All, set, rule);

    /// <summary>Decides anew, and puts it out unless synchronization holds it back.</summary>
    protected void Settle(Timestamp at, ChangeCause cause, int by)
    {
        DecideAnew();
        this.NoteObeyed(at);
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
        _output.Decided();
    }

    /// <summary>Puts out what has arrived.</summary>
    /// <param name="at">When.</param>
    /// <param name="cause">Why.</param>
    /// <param name="by">By whom; -1 for nobody.</param>
    /// <param name="silently">True where not the senders changed but what is known of the receivers.</param>
    protected void PutOut(Timestamp at, ChangeCause cause, int by, bool silently) => _output.PutOut(at, cause, by, First, Second, silently);

    /// <summary>What is held back must be told from what has arrived: the levels put out are kept.</summary>
    protected void FollowLevels() => _output.FollowFromNow();

    private Claim? Add(in DmxFrame frame)
    {
        Claim claim = new() { Stream = frame.Stream, Sender = frame.Sender, Host = frame.Host, Priority = frame.Priority, Sequence = frame.Sequence };
        return Place(claim) ? claim : null;
    }

    private bool Place(Claim claim)
    {
        if (!_places.TryAdd(claim, out Claim? displaced))
        {
            return false;
        }

        if (displaced is not null)
        {
            Gone(displaced);
            ClaimsNotListed++;
        }

        _output.PlacesChanged();
        return true;
    }

    private void Remove(Claim claim)
    {
        _places.Remove(claim);
        _output.PlacesChanged();
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
        // A damaged packet has no place in the order: none of its levels is taken.
        long order = (frame.Flags & FrameFlags.Damaged) == 0 ? NextOrder() : 0;
        ChangeCause? cause = claim.Take(in frame, order);
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

    private void TakeAddressPriorities(Claim claim, in DmxFrame frame)
    {
        if (claim.TakeAddressPriorities(in frame) && claim.IsLive)
        {
            Settle(frame.Time, ChangeCause.AddressPriorityChanged, claim.Sender);
        }
    }
}
