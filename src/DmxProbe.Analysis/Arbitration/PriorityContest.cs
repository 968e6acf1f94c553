using System.Numerics;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// An sACN universe: packet priority (E1.31-2018 6.2.3), per-address priority (START code DDh, a convention) and universe
/// synchronization (6.2.4, 6.2.6, 11). Priority together with synchronization is not defined (6.2.3): here the newest
/// packet of the definitive source says what is waited for.
/// </summary>
internal sealed class PriorityContest(UniverseId universe, UniverseHistory history) : Contest(universe, history)
{
    private const int HighestPriority = 200;
    private const int OldestDiscarded = -20;

    private int _syncedTo;
    private Timestamp _lastSync = Timestamp.MinValue;
    private Timestamp _now = Timestamp.MinValue;
    private bool _hadAddressPriority;
    private bool _hasAddressPriority;

    /// <inheritdoc/>
    public override SyncState Sync => !Holds(_now) ? SyncState.None
        : _now - _lastSync >= ProtocolTimes.SacnLoss ? SyncState.Frozen : SyncState.Held;

    /// <inheritdoc/>
    public override int SyncAddress => Holds(_now) ? _syncedTo : 0;

    /// <inheritdoc/>
    public override Timestamp? LastSync => _syncedTo == 0 ? null : _lastSync;

    /// <inheritdoc/>
    public override bool RestsOnEarlier => _syncedTo == 0 && Definitive() is { SyncAddress: not 0 };

    /// <inheritdoc/>
    public override bool HadAddressPriority => _hadAddressPriority;

    /// <inheritdoc/>
    public override WinCondition First => WinCondition.SlotBySlot;

    /// <inheritdoc/>
    public override WinCondition Second => WinCondition.WholeUniverse;

    /// <inheritdoc/>
    public override int Foremost => _hasAddressPriority ? 0 : 1;

    /// <inheritdoc/>
    protected override bool IsPlain => true;

    /// <summary>A synchronization packet came.</summary>
    public void Synchronize(int address, Timestamp at)
    {
        _now = at;
        Advance(at);
        if (address == 0 || Definitive()?.SyncAddress != address)
        {
            return;
        }

        bool was = _syncedTo == address;
        _syncedTo = address;
        _lastSync = at;
        if (was)
        {
            PutOut(at, ChangeCause.Synchronized, -1, silently: false);
        }
    }

    /// <summary>The time that <see cref="Sync"/> is told for.</summary>
    public void At(Timestamp now) => _now = now;

    /// <inheritdoc/>
    protected override bool Holds(Timestamp at) =>
        _syncedTo != 0 && Definitive() is Claim claim && claim.SyncAddress == _syncedTo
        && (at - _lastSync < ProtocolTimes.SacnLoss || !claim.ForcesSync);

    // With Force_Synchronization 0 nothing happens at the time-out, with 1 the next packet acts: no moment of its own.
    /// <inheritdoc/>
    protected override Timestamp DueOfSync(Timestamp now) => Timestamp.MaxValue;

    /// <inheritdoc/>
    protected override void SyncRunsOut()
    {
    }

    /// <inheritdoc/>
    protected override bool IsOutOfOrder(Claim claim, in DmxFrame frame) =>
        unchecked((sbyte)(byte)(frame.Sequence - claim.Sequence)) is <= 0 and > OldestDiscarded;

    /// <inheritdoc/>
    protected override ChangeCause? Taken(Claim claim, in DmxFrame frame, ChangeCause? cause)
    {
        _now = frame.Time;
        if (claim.SyncAddress != _syncedTo && claim == Definitive())
        {
            // Address 0: act at once and drop what waits (6.2.4.1). Another address: not synchronized until its first packet (11.1.1).
            _syncedTo = 0;
        }

        return cause == ChangeCause.LevelChanged ? null : cause;
    }

    /// <inheritdoc/>
    protected override long NextOrder() => 0;

    /// <inheritdoc/>
    protected override void Gone(Claim claim)
    {
    }

    /// <inheritdoc/>
    public override bool IsLeftOut(Claim claim) => false;

    /// <inheritdoc/>
    public override int PriorityOf(Claim claim) => claim.Priority;

    /// <inheritdoc/>
    protected override void Decide()
    {
        ReadOnlySpan<Claim?> places = Places;
        int top = -1;
        int live = 0;
        _hasAddressPriority = false;
        foreach (Claim? claim in places)
        {
            if (claim is { IsLive: true })
            {
                live++;
                top = Math.Max(top, claim.Priority);
                _hasAddressPriority |= claim.HasAddressPriority;
            }
        }

        _hadAddressPriority |= _hasAddressPriority;
        for (int slot = 0; slot < Claim.Slots; slot++)
        {
            DecideSlotBySlot(places, slot, live);
            DecideWhole(places, slot, live, top);
        }
    }

    private void DecideSlotBySlot(ReadOnlySpan<Claim?> places, int slot, int live)
    {
        ulong best = 0;
        ulong reserved = 0;
        int top = -1;
        int sourcing = 0;
        bool anySends = false;
        bool byAddress = false;
        for (int place = 0; place < places.Length; place++)
        {
            if (places[place] is not { IsLive: true } claim || slot >= claim.SlotCount)
            {
                continue;
            }

            anySends = true;
            int priority = claim.AddressPriority(slot);
            if (priority > HighestPriority)
            {
                reserved |= 1UL << place;
                sourcing++;
                continue;
            }

            byAddress |= priority > 0;
            priority = priority < 0 ? claim.Priority : priority == 0 ? -1 : priority;
            if (priority < 0)
            {
                continue;
            }

            sourcing++;
            best = priority > top ? 1UL << place : priority == top ? best | (1UL << place) : best;
            top = Math.Max(top, priority);
        }

        bool one = BitOperations.PopCount(best) < 2;
        WinRule rule = live == 0 ? WinRule.Nobody
            : !anySends ? WinRule.NotSent
            : sourcing == 0 ? WinRule.NotSourced
            : reserved != 0 ? WinRule.ReservedPriority
            : live == 1 ? WinRule.OnlySender
            : sourcing == 1 ? WinRule.OnlySourced
            : !one ? WinRule.EqualPriority
            : byAddress ? WinRule.AddressPriority
            : WinRule.HigherPriority;
        Say(0, slot, best | reserved, rule);
    }

    private void DecideWhole(ReadOnlySpan<Claim?> places, int slot, int live, int top)
    {
        ulong set = 0;
        int senders = 0;
        for (int place = 0; place < places.Length; place++)
        {
            if (places[place] is { IsLive: true } claim && claim.Priority == top)
            {
                senders++;
                set |= slot < claim.SlotCount ? 1UL << place : 0;
            }
        }

        bool one = BitOperations.PopCount(set) < 2;
        WinRule rule = live == 0 ? WinRule.Nobody
            : set == 0 ? WinRule.NotSent
            : live == 1 ? WinRule.OnlySender
            : !one ? WinRule.EqualPriority
            : senders > 1 ? WinRule.OnlySourced
            : WinRule.HigherPriority;
        Say(1, slot, set, rule);
    }

    // The source whose packets say what is waited for: of those with the highest packet priority the one heard last.
    private Claim? Definitive()
    {
        Claim? best = null;
        foreach (Claim? claim in Places)
        {
            if (claim is { IsLive: true } && (best is null || claim.Priority > best.Priority || (claim.Priority == best.Priority && claim.Last > best.Last)))
            {
                best = claim;
            }
        }

        return best;
    }
}
