using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>One sender of one contested universe: what it sends and what it claims.</summary>
internal sealed class Claim
{
    /// <summary>Slots of a universe.</summary>
    public const int Slots = 512;

    private readonly byte[] _levels = new byte[Slots];
    private byte[]? _addressPriority;
    private long[]? _changedAt;

    /// <summary>Index in <see cref="StreamTable"/>.</summary>
    public required int Stream { get; init; }

    /// <summary>Index in <see cref="SenderTable"/>.</summary>
    public required int Sender { get; init; }

    /// <summary>IPv4 address it sends from, as a number; 0 where it has none.</summary>
    public uint Host { get; init; }

    /// <summary>Number of this claim in its contest's sets, 0 to 63; free again when the claim is gone.</summary>
    public int Place { get; set; }

    /// <summary>Whether it sends levels; false where only per-address priorities came, or the levels stopped.</summary>
    public bool IsLive { get; set; }

    /// <summary>Packet priority of its last levels.</summary>
    public byte Priority { get; set; }

    /// <summary>Slots of its last levels as sent, whether or not they were captured whole.</summary>
    public int SlotCount { get; set; }

    /// <summary>How many levels are known, from slot 1.</summary>
    public int Known { get; private set; }

    /// <summary>When its last levels came.</summary>
    public Timestamp Last { get; set; }

    /// <summary>Sequence number of its last packet that counts.</summary>
    public byte Sequence { get; set; }

    /// <summary>Synchronization address of its last levels.</summary>
    public ushort SyncAddress { get; set; }

    /// <summary>Force_Synchronization of its last levels.</summary>
    public bool ForcesSync { get; set; }

    /// <summary>Whether per-address priorities count: some came within the last 2.5 s.</summary>
    public bool HasAddressPriority { get; set; }

    /// <summary>When per-address priorities last came.</summary>
    public Timestamp LastAddressPriority { get; set; }

    /// <summary>Whether an Art-Net node merges it: one of the first two.</summary>
    public bool IsMerged { get; set; }

    /// <summary>Takes a packet of levels.</summary>
    /// <param name="frame">The packet; of a damaged one the levels are not taken.</param>
    /// <param name="order">As for <see cref="TakeLevels"/>.</param>
    /// <returns>What it changed; null for nothing.</returns>
    public ChangeCause? Take(in DmxFrame frame, long order)
    {
        ChangeCause? cause = null;
        if (!IsLive)
        {
            IsLive = true;
            Forget();
            cause = ChangeCause.SenderAppeared;
        }
        else if (Priority != frame.Priority && frame.Universe.Protocol == UniverseProtocol.Sacn)
        {
            cause = ChangeCause.PriorityChanged;
        }

        int count = SlotCount;
        bool levelsMoved = (frame.Flags & FrameFlags.Damaged) == 0
            && TakeLevels(frame.Slots, (frame.Flags & FrameFlags.SlotsCut) != 0, order);
        Priority = frame.Priority;
        Last = frame.Time;
        Sequence = frame.Sequence;
        SyncAddress = frame.SyncAddress;
        ForcesSync = (frame.Flags & FrameFlags.ForceSynchronization) != 0;
        return cause ?? (SlotCount != count ? ChangeCause.SlotCountChanged : levelsMoved ? ChangeCause.LevelChanged : null);
    }

    /// <summary>Takes levels.</summary>
    /// <param name="slots">Slot 1 first.</param>
    /// <param name="isCut">Whether the capture lost the rest.</param>
    /// <param name="order">Place in the order of packets; kept for each slot that changes. 0: not kept.</param>
    /// <returns>Whether a level changed or became known.</returns>
    public bool TakeLevels(ReadOnlySpan<byte> slots, bool isCut, long order)
    {
        slots = slots.Length > Slots ? slots[..Slots] : slots;
        SlotCount = isCut ? Slots : slots.Length;
        if (slots.Length == Known && slots.SequenceEqual(_levels.AsSpan(0, Known)))
        {
            return false;
        }

        if (order > 0)
        {
            _changedAt ??= new long[Slots];
            for (int slot = 0; slot < slots.Length; slot++)
            {
                if (slot >= Known || slots[slot] != _levels[slot])
                {
                    _changedAt[slot] = order;
                }
            }
        }

        slots.CopyTo(_levels);
        Known = slots.Length;
        return true;
    }

    /// <summary>A sender that comes back begins anew: every slot of its next packet counts as changed.</summary>
    public void Forget() => Known = 0;

    /// <summary>It joins a merge: all its slots are as new as its packet.</summary>
    public void ChangedAll(long order) => (_changedAt ??= new long[Slots]).AsSpan().Fill(order);

    /// <summary>Takes a packet of per-address priorities; of a damaged or cut one only that it came.</summary>
    /// <returns>Whether any changed.</returns>
    public bool TakeAddressPriorities(in DmxFrame frame)
    {
        Sequence = frame.Sequence;
        LastAddressPriority = frame.Time;
        return (frame.Flags & (FrameFlags.SlotsCut | FrameFlags.Damaged)) == 0 && TakeAddressPriorities(frame.Slots);
    }

    /// <summary>Takes per-address priorities; slots that a short packet leaves out are not sourced.</summary>
    /// <returns>Whether any changed.</returns>
    private bool TakeAddressPriorities(ReadOnlySpan<byte> priorities)
    {
        priorities = priorities.Length > Slots ? priorities[..Slots] : priorities;
        _addressPriority ??= new byte[Slots];
        bool same = HasAddressPriority
            && priorities.SequenceEqual(_addressPriority.AsSpan(0, priorities.Length))
            && !_addressPriority.AsSpan(priorities.Length).ContainsAnyExcept((byte)0);
        priorities.CopyTo(_addressPriority);
        _addressPriority.AsSpan(priorities.Length).Clear();
        HasAddressPriority = true;
        return !same;
    }

    /// <summary>The capture did not listen until a moment: it may have been sent as well as not.</summary>
    public void Hold(Timestamp until)
    {
        Last = Last > until ? Last : until;
        LastAddressPriority = LastAddressPriority > until ? LastAddressPriority : until;
    }

    /// <summary>The level of a slot, from 0; -1 where it is not sent or not known.</summary>
    public int Level(int slot) => slot < Known && slot < SlotCount ? _levels[slot] : -1;

    /// <summary>The per-address priority of a slot, from 0; -1 where the sender sends none.</summary>
    public int AddressPriority(int slot) => HasAddressPriority ? _addressPriority![slot] : -1;

    /// <summary>Place in the order of packets of the last change of a slot.</summary>
    public long ChangedAt(int slot) => _changedAt is null ? 0 : _changedAt[slot];

    /// <summary>A copy that shares nothing.</summary>
    public Claim Copy()
    {
        Claim copy = new()
        {
            Stream = Stream,
            Sender = Sender,
            Host = Host,
            Place = Place,
            IsLive = IsLive,
            Priority = Priority,
            SlotCount = SlotCount,
            Known = Known,
            Last = Last,
            Sequence = Sequence,
            SyncAddress = SyncAddress,
            ForcesSync = ForcesSync,
            HasAddressPriority = HasAddressPriority,
            LastAddressPriority = LastAddressPriority,
            IsMerged = IsMerged,
            _addressPriority = _addressPriority is null ? null : [.. _addressPriority],
            _changedAt = _changedAt is null ? null : [.. _changedAt],
        };
        _levels.CopyTo(copy._levels, 0);
        return copy;
    }
}
