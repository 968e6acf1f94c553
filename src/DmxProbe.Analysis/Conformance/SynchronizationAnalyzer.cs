using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>
/// sACN synchronization (E1.31-2018 sections 6.2.4.1, 6.2.6, 6.7.2, 11): addresses asked for with and without
/// synchronization packets, and receivers that must stand still because those stopped.
/// </summary>
public sealed class SynchronizationAnalyzer : IAnalyzer
{
    /// <summary>Most addresses kept; nobody has that many.</summary>
    public const int MostAddresses = 256;

    private const int MostSenders = 8;
    private const int MostUniverses = 16;
    private readonly Dictionary<int, Address> _addresses = [];

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.SyncAddress != 0
            && frame.StartCode == 0
            && (frame.Flags & (FrameFlags.Terminated | FrameFlags.Preview | FrameFlags.Draft)) == 0)
        {
            Take(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind == LinkEventKind.SacnSync && linkEvent.A != 0)
        {
            Find((int)linkEvent.A, linkEvent.Time, linkEvent.Record)?.Sync(in linkEvent);
        }
        else if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            // Synchronization may have gone on while the capture did not listen.
            foreach (Address address in _addresses.Values)
            {
                address.Hold(linkEvent.Time);
            }
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The addresses, by number.</summary>
    public IReadOnlyList<SynchronizationSummary> Snapshot(SenderTable senders) =>
        [.. _addresses.OrderBy(pair => pair.Key).Select(pair => pair.Value.Describe(pair.Key, senders))];

    private void Take(in DmxFrame frame) => Find(frame.SyncAddress, frame.Time, frame.Record)?.Frame(in frame);

    private Address? Find(int number, Timestamp time, long record)
    {
        if (!_addresses.TryGetValue(number, out Address? address))
        {
            if (_addresses.Count >= MostAddresses)
            {
                return null;
            }

            _addresses.Add(number, address = new Address(time, record));
        }

        address.Seen(time);
        return address;
    }

    private sealed class Address(Timestamp first, long firstRecord)
    {
        private readonly List<int> _universes = [];
        private readonly List<(int Sender, byte Sequence, Timestamp Last)> _senders = [];
        private Timestamp _last;
        private Timestamp? _lastSync;
        private Timestamp _frozenFrom;
        private Timestamp _frozenTo;
        private long _frozenRecord;
        private long _packets;
        private long _frames;
        private long _disputes;
        private long _lost;
        private long _discarded;
        private long _frozen;
        private long _forced;

        public void Seen(Timestamp time) => _last = time;

        public void Hold(Timestamp time) => _lastSync = _lastSync is null ? null : time;

        public void Sync(in LinkEvent linkEvent)
        {
            _packets++;
            _lastSync = linkEvent.Time;
            Timestamp now = linkEvent.Time;
            int sender = linkEvent.Sender;
            byte sequence = unchecked((byte)linkEvent.B);
            int at = _senders.FindIndex(each => each.Sender == sender);
            if (_senders.Exists(each => each.Sender != sender && now - each.Last <= ProtocolTimes.SacnLoss))
            {
                _disputes++;
            }

            if (at < 0)
            {
                if (_senders.Count < MostSenders)
                {
                    _senders.Add((sender, sequence, now));
                }

                return;
            }

            int step = now - _senders[at].Last > ProtocolTimes.SacnLoss
                ? 1
                : unchecked((sbyte)(byte)(sequence - _senders[at].Sequence));
            if (step is <= 0 and > -20)
            {
                _discarded++;
                return;
            }

            _lost += step > 1 ? step - 1 : 0;
            _senders[at] = (sender, sequence, now);
        }

        public void Frame(in DmxFrame frame)
        {
            _frames++;
            if (_universes.Count < MostUniverses && !_universes.Contains(frame.Universe.Number))
            {
                _universes.Add(frame.Universe.Number);
            }

            if (_lastSync is not Timestamp last || frame.Time - last <= ProtocolTimes.SacnLoss)
            {
                return;
            }

            if ((frame.Flags & FrameFlags.ForceSynchronization) != 0)
            {
                _forced++;
                return;
            }

            if (_frozen++ == 0)
            {
                _frozenFrom = last + ProtocolTimes.SacnLoss;
                _frozenRecord = frame.Record;
            }

            _frozenTo = frame.Time;
        }

        public SynchronizationSummary Describe(int number, SenderTable senders) => new()
        {
            Address = number,
            Packets = _packets,
            Senders = [.. _senders.Where(each => each.Sender >= 0).Select(each => senders.Describe(each.Sender))],
            Disputes = _disputes,
            Lost = _lost,
            Discarded = _discarded,
            Frames = _frames,
            Universes = [.. _universes],
            FrozenFrames = _frozen,
            FrozenFrom = _frozenFrom,
            FrozenTo = _frozenTo,
            FrozenRecord = _frozenRecord,
            ForcedFrames = _forced,
            First = first,
            Last = _last,
            FirstRecord = firstRecord,
        };
    }
}
