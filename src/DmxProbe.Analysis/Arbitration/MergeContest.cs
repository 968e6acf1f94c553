using System.Numerics;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// An Art-Net Port-Address: two senders are merged by highest or by latest value, as the node is set; further ones are
/// ignored; one that fails is held for 10 s (Art-Net 4, 1.4dn, pages 76 and 77). ArtSync holds levels until the next
/// ArtSync, for at most 4 s (pages 77 to 79). A line or a serial port has one sender and is never merged.
/// </summary>
internal sealed class MergeContest(UniverseId universe, UniverseHistory history, MergeModes modes) : Contest(universe, history)
{
    private const int MostMerged = 2;

    private MergeMode _mode = modes.Of(universe.Number);
    private Claim? _sole;
    private bool _cancels;
    private bool _isSynced;
    private uint _lastHost;
    private long _order;
    private Timestamp _lastSync = Timestamp.MinValue;

    /// <inheritdoc/>
    public override SyncState Sync => _isSynced && !MergesHosts() ? SyncState.Held : SyncState.None;

    /// <inheritdoc/>
    public override Timestamp? LastSync => _isSynced ? _lastSync : null;

    /// <inheritdoc/>
    public override bool RestsOnEarlier => Live() > MostMerged || _sole is not null || (Live() > 1 && !IsOne(_mode));

    /// <inheritdoc/>
    public override MergeMode Mode => Universe.Protocol == UniverseProtocol.ArtNet ? _mode : MergeMode.NotKnown;

    /// <inheritdoc/>
    public override WinCondition First => WinCondition.HighestValue;

    /// <inheritdoc/>
    public override WinCondition Second => WinCondition.LatestValue;

    /// <inheritdoc/>
    public override int Foremost => 0;

    /// <inheritdoc/>
    protected override bool IsPlain => !_isSynced && !_cancels && _sole is null;

    /// <summary>The address that the last levels came from, where the contest begins with a sender that was alone.</summary>
    public void CameFrom(uint host) => _lastHost = host;

    /// <summary>ArtSync came from an address.</summary>
    public void Synchronize(uint host, Timestamp at)
    {
        Advance(at);

        // Ignored unless it is from where the last ArtDmx came, and while different addresses are merged (pages 77 to 79).
        if (host != _lastHost || MergesHosts())
        {
            return;
        }

        if (_isSynced)
        {
            PutOut(at, ChangeCause.Synchronized, -1, silently: false);
        }
        else
        {
            FollowLevels();
        }

        _isSynced = true;
        _lastSync = at;
    }

    /// <summary>A node was told, or told, how it merges.</summary>
    public void ModeMayHaveChanged(Timestamp at)
    {
        MergeMode mode = modes.Of(Universe.Number);
        if (mode == _mode)
        {
            return;
        }

        Advance(at);
        bool isKnown = IsOne(mode) && IsOne(_mode);
        _mode = mode;
        DecideAnew();

        // What was not known before did not change now.
        PutOut(at, ChangeCause.MergeModeChanged, -1, silently: !isKnown);
    }

    /// <summary>A node was told to cancel its merge: the sender of the next ArtDmx is in sole control.</summary>
    public void Cancel() => _cancels |= Merged() > 1;

    /// <inheritdoc/>
    protected override bool Holds(Timestamp at) => _isSynced && at - _lastSync < ProtocolTimes.ArtSyncLoss && !MergesHosts();

    /// <inheritdoc/>
    protected override Timestamp DueOfSync(Timestamp now) =>
        _isSynced && now - _lastSync >= ProtocolTimes.ArtSyncLoss ? _lastSync + ProtocolTimes.ArtSyncLoss : Timestamp.MaxValue;

    /// <inheritdoc/>
    protected override void SyncRunsOut() => _isSynced = false;

    /// <inheritdoc/>
    protected override bool IsOutOfOrder(Claim claim, in DmxFrame frame) => false;

    /// <inheritdoc/>
    protected override long NextOrder() => ++_order;

    /// <inheritdoc/>
    protected override ChangeCause? Taken(Claim claim, in DmxFrame frame, ChangeCause? cause)
    {
        _lastHost = frame.Host;
        if (_cancels)
        {
            _cancels = false;
            _sole = claim;
            MergeOnly(claim);
            return ChangeCause.MergeCancelled;
        }

        int merged = Merged();
        if (!claim.IsMerged && merged < MostMerged && _sole is null)
        {
            claim.IsMerged = true;
            claim.ChangedAll(_order);
            return ChangeCause.SenderAppeared;
        }

        return cause == ChangeCause.LevelChanged && (merged < MostMerged || !claim.IsMerged) ? null : cause;
    }

    /// <inheritdoc/>
    protected override void Gone(Claim claim)
    {
        claim.IsMerged = false;
        if (_sole == claim || Merged() == Live())
        {
            _sole = null;
        }
    }

    /// <inheritdoc/>
    public override bool IsLeftOut(Claim claim) => !claim.IsMerged;

    /// <inheritdoc/>
    public override bool IsMergeCancelled => _sole is not null;

    /// <inheritdoc/>
    public override int PriorityOf(Claim claim) => -1;

    /// <inheritdoc/>
    protected override void Copied(Func<Claim?, Claim?> other) => _sole = other(_sole);

    /// <inheritdoc/>
    protected override void Decide()
    {
        // One that was alone when the contest began is the first of the merge.
        if (Merged() == 0 && Live() == 1)
        {
            foreach (Claim? claim in Places)
            {
                if (claim is { IsLive: true })
                {
                    claim.IsMerged = true;
                }
            }
        }

        bool highest = _mode != MergeMode.LatestValue;
        bool latest = _mode != MergeMode.HighestValue;
        int live = Live();
        int merged = Merged();
        for (int slot = 0; slot < Claim.Slots; slot++)
        {
            DecideSlot(slot, live, merged, highest, latest);
        }
    }

    private static bool IsOne(MergeMode mode) => mode is MergeMode.HighestValue or MergeMode.LatestValue;

    private void DecideSlot(int slot, int live, int merged, bool highest, bool latest)
    {
        ReadOnlySpan<Claim?> places = Places;
        ulong sourcing = 0;
        ulong best = 0;
        ulong newest = 0;
        int top = -2;
        long order = -1;
        for (int place = 0; place < places.Length; place++)
        {
            if (places[place] is not { IsLive: true, IsMerged: true } claim || slot >= claim.SlotCount)
            {
                continue;
            }

            ulong bit = 1UL << place;
            sourcing |= bit;
            int level = claim.Level(slot);
            best = level > top ? bit : level == top ? best | bit : best;
            top = Math.Max(top, level);
            long changed = claim.ChangedAt(slot);
            newest = changed > order ? bit : changed == order ? newest | bit : newest;
            order = Math.Max(order, changed);
        }

        if (BitOperations.PopCount(sourcing) < MostMerged)
        {
            WinRule alone = live == 0 ? WinRule.Nobody : sourcing == 0 && merged > 0 ? WinRule.NotSent : merged > 1 ? WinRule.OnlySourced : live == 1 ? WinRule.OnlySender : _sole is not null ? WinRule.MergeCancelled : WinRule.PartnerLost;
            Say(0, slot, sourcing, alone);
            Say(1, slot, sourcing, alone);
            return;
        }

        WinRule byValue = BitOperations.PopCount(best) > 1 ? WinRule.EqualValue : WinRule.HighestValue;
        Say(0, slot, highest ? best : newest, highest ? byValue : WinRule.LatestChange);
        Say(1, slot, latest ? newest : best, latest ? WinRule.LatestChange : byValue);
    }

    private void MergeOnly(Claim only)
    {
        foreach (Claim? claim in Places)
        {
            if (claim is not null)
            {
                claim.IsMerged = claim == only;
            }
        }
    }

    private int Merged()
    {
        int merged = 0;
        foreach (Claim? claim in Places)
        {
            merged += claim is { IsLive: true, IsMerged: true } ? 1 : 0;
        }

        return merged;
    }

    private int Live()
    {
        int live = 0;
        foreach (Claim? claim in Places)
        {
            live += claim is { IsLive: true } ? 1 : 0;
        }

        return live;
    }

    private bool MergesHosts()
    {
        uint host = 0;
        bool any = false;
        foreach (Claim? claim in Places)
        {
            if (claim is { IsLive: true, IsMerged: true })
            {
                if (any && claim.Host != host)
                {
                    return true;
                }

                (any, host) = (true, claim.Host);
            }
        }

        return false;
    }
}
