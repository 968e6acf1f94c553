using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>One universe while a capture is read: what RDM passes on it.</summary>
internal sealed class RdmPortState(UniverseId universe, Timestamp first, long record)
{
    private HashSet<long> _table = [];
    private HashSet<long> _coming = [];
    private readonly Timestamp _first = first;
    private Timestamp _last = first;
    private bool _hasTable;
    private RdmSpan? _damage;

    public long Requests { get; set; }

    public long Answers { get; set; }

    public long Broadcasts { get; set; }

    public long Discoveries { get; set; }

    public long DiscoveryReplies { get; set; }

    public long DiscoveryCollisions { get; set; }

    public long Damaged { get; private set; }

    public long Flushes { get; set; }

    /// <summary>The device asked last on a line, whose answer must come next.</summary>
    public RdmDeviceState? Asked { get; set; }

    /// <summary>The device that answered last on a line.</summary>
    public RdmDeviceState? Answering { get; set; }

    /// <summary>The only UID in the branch searched last; -1 for a wider branch.</summary>
    public long SearchedAlone { get; set; } = -1;

    /// <summary>Whole tables of devices.</summary>
    public long Tables { get; private set; }

    /// <summary>How often a table differed from the one before.</summary>
    public long TableChanges { get; private set; }

    /// <summary>Something of RDM passed.</summary>
    public void Seen(Timestamp time) => _last = time > _last ? time : _last;

    /// <summary>A message was damaged.</summary>
    public void Spoilt(Timestamp time, long at)
    {
        _damage = RdmSpan.Longer(_damage, time, at);
        Damaged++;
    }

    /// <summary>A block of a gateway's table.</summary>
    /// <param name="block">Its number, from 0.</param>
    /// <param name="uids">The UIDs in it.</param>
    /// <param name="total">UIDs of the whole table.</param>
    /// <param name="gone">UIDs that the whole table does not hold any more; empty until it is whole.</param>
    public void Block(int block, IEnumerable<long> uids, int total, out IReadOnlyCollection<long> gone)
    {
        gone = [];
        if (block == 0)
        {
            _coming = [];
        }

        _coming.UnionWith(uids);
        if (_coming.Count < total)
        {
            return;
        }

        Tables++;
        if (_hasTable && !_coming.SetEquals(_table))
        {
            TableChanges++;
            gone = [.. _table.Except(_coming)];
        }

        _hasTable = true;
        _table = _coming;
        _coming = [];
    }

    /// <summary>What is known now.</summary>
    public RdmPort Snapshot(RdmShare? share) => new()
    {
        Universe = universe,
        First = _first,
        Last = _last,
        FirstRecord = record,
        Requests = Requests,
        Answers = Answers,
        Broadcasts = Broadcasts,
        Discoveries = Discoveries,
        DiscoveryReplies = DiscoveryReplies,
        DiscoveryCollisions = DiscoveryCollisions,
        Damaged = Damaged,
        FirstDamagedRecord = _damage?.FirstRecord ?? 0,
        DamagedFrom = _damage,
        Tables = Tables,
        TableChanges = TableChanges,
        Flushes = Flushes,
        Share = share,
    };
}
