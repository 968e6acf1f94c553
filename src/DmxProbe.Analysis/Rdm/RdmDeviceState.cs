using System.Buffers.Binary;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>One device while a capture is read: what it said, and how it answers.</summary>
internal sealed class RdmDeviceState(UniverseId universe, RdmUid uid, Timestamp first, long record)
{
    private const int MostOpen = 16;
    private const int MostChanges = 16;
    private const int MostRefusals = 64;

    // No clause says how long a gateway may take; a controller of ours would have given up (common practice, no source).
    private static readonly Duration Patience = Duration.FromSeconds(3);

    private readonly RdmReading _reading = new();
    private readonly List<Open> _open = [];
    private readonly List<RdmAddressChange> _changes = [];
    private readonly Dictionary<(int Parameter, bool IsSet, int Reason), (long Count, RdmSpan Seen)> _refusals = [];
    private (byte Transaction, int Parameter)? _answered;
    private readonly Timestamp _first = first;
    private Timestamp _last = first;
    private Timestamp? _addressAt;
    private long _addressRecord;
    private Timestamp? _personalityAt;
    private long _personalityRecord;
    private long _requests;
    private long _answers;
    private long _given;
    private Duration? _slowest;
    private RdmSpan? _addressSaid;
    private RdmSpan? _twice;
    private RdmSpan? _unanswered;
    private RdmSpan? _late;
    private RdmSpan? _identifying;
    private RdmSpan? _tableMoves;

    public UniverseId Universe => universe;

    public RdmUid Uid => uid;

    public bool IsInTable { get; private set; }

    public bool IsHeard { get; set; }

    public long SecondAnswers { get; private set; }

    public long CollisionsOfItsOwn { get; private set; }

    public long Late { get; private set; }

    public long Vanished { get; private set; }

    public long Returned { get; private set; }

    private bool IsGone { get; set; }

    /// <summary>It was named or heard.</summary>
    public void Seen(Timestamp time) => _last = time > _last ? time : _last;

    /// <summary>Several answered where only it was searched for.</summary>
    public void CollidedAlone(Timestamp time, long record)
    {
        CollisionsOfItsOwn++;
        _twice = RdmSpan.Longer(_twice, time, record);
    }

    /// <summary>An answer of it on a line began too late.</summary>
    public void WasLate(Timestamp time, long record)
    {
        Late++;
        _late = RdmSpan.Longer(_late, time, record);
    }

    /// <summary>A gateway's table names it.</summary>
    public void InTable(Timestamp time, long record)
    {
        IsInTable = true;
        if (IsGone)
        {
            IsGone = false;
            Returned++;
            _tableMoves = RdmSpan.Longer(_tableMoves, time, record);
        }
    }

    /// <summary>A gateway's table does not name it any more.</summary>
    public void LeftTable(Timestamp time, long record)
    {
        IsGone = true;
        Vanished++;
        _tableMoves = RdmSpan.Longer(_tableMoves, time, record);
    }

    /// <summary>A request to it.</summary>
    public void Asked(in RdmPacket packet, Timestamp time, long record)
    {
        _requests++;
        if (_open.Count == MostOpen)
        {
            Given(_open[0]);
            _open.RemoveAt(0);
        }

        ReadOnlySpan<byte> data = packet.Data;
        int value = data.Length switch { 0 => 0, 1 => data[0] << 8, _ => BinaryPrimitives.ReadUInt16BigEndian(data) };
        _open.Add(new Open(packet.Transaction, packet.Parameter, packet.SubDevice, packet.CommandClass == RdmCommandClass.Set, value, packet.Source, time, record));
    }

    /// <summary>On a line the next packet must be the answer: what is open now stays so.</summary>
    public void GivenUp()
    {
        foreach (Open open in _open)
        {
            Given(open);
        }

        _open.Clear();
    }

    /// <summary>On a line something damaged came where the answer was due: it answered, and what is open is closed.</summary>
    public void Garbled() => _open.Clear();

    /// <summary>An answer of it.</summary>
    /// <param name="packet">The answer, its checksum right.</param>
    /// <param name="time">When.</param>
    /// <param name="record">In which record.</param>
    /// <param name="isLine">True on a line, where an answer is never repeated on its way.</param>
    public void Answers(in RdmPacket packet, Timestamp time, long record, bool isLine)
    {
        _answers++;
        Seen(time);
        IsHeard = true;
        byte transaction = packet.Transaction;
        int asked = _open.FindIndex(open => open.Transaction == transaction);
        Open? request = asked < 0 ? null : _open[asked];
        if (request is Open found)
        {
            _open.RemoveAt(asked);
            if (!isLine)
            {
                Took(time - found.Time);
            }
        }
        else if (isLine && _answered == (transaction, packet.Parameter))
        {
            SecondAnswers++;
            _twice = RdmSpan.Longer(_twice, time, record);
        }

        _answered = (transaction, packet.Parameter);
        switch (packet.ResponseType)
        {
            case RdmResponseType.Ack or RdmResponseType.AckOverflow:
                Take(in packet, request, time, record);
                break;
            case RdmResponseType.NackReason when packet.Data.Length >= 2:
                Refused(packet.Parameter, packet.CommandClass == RdmCommandClass.SetResponse, BinaryPrimitives.ReadUInt16BigEndian(packet.Data), time, record);
                break;
            default:
                break;
        }
    }

    /// <summary>An answer took this long.</summary>
    public void Took(Duration delay) => _slowest = _slowest is Duration before && before >= delay ? before : delay;

    /// <summary>An address of a part that a gateway told on its own way.</summary>
    public void PartAddress(int part, int address, Timestamp time)
    {
        Seen(time);
        IsHeard = true;
        _reading.Address(part, address);
    }

    /// <summary>What is known at a time.</summary>
    public RdmDevice Snapshot(Timestamp now) => new()
    {
        Universe = universe,
        Uid = uid,
        First = _first,
        Last = _last,
        FirstRecord = record,
        IsInTable = IsInTable,
        IsHeard = IsHeard,
        ModelId = _reading.ModelId,
        Manufacturer = _reading.Manufacturer,
        Model = _reading.Model,
        Label = _reading.Label,
        StartAddress = _reading.StartAddress,
        AddressAt = _addressAt,
        AddressRecord = _addressRecord,
        PersonalityAt = _personalityAt,
        PersonalityRecord = _personalityRecord,
        Footprint = _reading.Footprint,
        Personality = _reading.Personality,
        PersonalityCount = _reading.PersonalityCount,
        Personalities = _reading.Personalities,
        Slots = _reading.Slots,
        SubDevices = _reading.Parts,
        IsIdentifying = _reading.IsIdentifying,
        AddressChanges = [.. _changes],
        Requests = _requests,
        Answers = _answers,
        Unanswered = _given + _open.Count(open => now - open.Time > Patience),
        SecondAnswers = SecondAnswers,
        CollisionsOfItsOwn = CollisionsOfItsOwn,
        Slowest = _slowest,
        Late = Late,
        Refusals = [.. _refusals.OrderByDescending(pair => pair.Value.Count).ThenBy(pair => pair.Key).Select(pair => new RdmRefusal(pair.Key.Parameter, pair.Key.IsSet, pair.Key.Reason, pair.Value.Count) { Seen = pair.Value.Seen })],
        Vanished = Vanished,
        Returned = Returned,
        AddressSaid = _addressSaid,
        TwiceSeen = _twice,
        UnansweredFrom = _open.Where(open => now - open.Time > Patience).Aggregate(_unanswered, (span, open) => RdmSpan.Longer(span, open.Time, open.Record)),
        LateFrom = _late,
        IdentifyingFrom = _identifying,
        TableMoves = _tableMoves,
    };

    private void Take(in RdmPacket packet, Open? request, Timestamp time, long record)
    {
        int? before = _reading.StartAddress;
        bool isSet = packet.CommandClass == RdmCommandClass.SetResponse;
        if (!isSet)
        {
            _reading.Answered(packet.Parameter, packet.SubDevice, packet.Data);
        }
        else if (request is { IsSet: true } set && set.Parameter == packet.Parameter)
        {
            _reading.Set(packet.Parameter, set.Part, set.Value);
        }

        if (packet.SubDevice == 0 && packet.Parameter is RdmParameter.DeviceInfo or RdmParameter.Personality)
        {
            _personalityAt = time;
            _personalityRecord = record;
        }

        if (packet.SubDevice == 0 && _reading.StartAddress is int now
            && (packet.Parameter == RdmParameter.DeviceInfo || packet.Parameter == RdmParameter.StartAddress))
        {
            _addressAt = time;
            _addressRecord = record;
            _addressSaid = RdmSpan.Longer(before == now ? _addressSaid : null, time, record);
            if (before is int old && old != now && _changes.Count < MostChanges)
            {
                _changes.Add(new RdmAddressChange(time, old, now, isSet ? packet.Destination : null) { Record = record });
            }
        }

        if (packet.SubDevice == 0 && packet.Parameter == RdmParameter.IdentifyDevice)
        {
            _identifying = _reading.IsIdentifying == true ? RdmSpan.Longer(_identifying, time, record) : null;
        }
    }

    private void Given(Open open)
    {
        _given++;
        _unanswered = RdmSpan.Longer(_unanswered, open.Time, open.Record);
    }

    private void Refused(int parameter, bool isSet, int reason, Timestamp time, long record)
    {
        (int, bool, int) key = (parameter, isSet, reason);
        if (_refusals.TryGetValue(key, out (long Count, RdmSpan Seen) before))
        {
            _refusals[key] = (before.Count + 1, RdmSpan.Longer(before.Seen, time, record));
        }
        else if (_refusals.Count < MostRefusals)
        {
            _refusals[key] = (1, RdmSpan.Longer(null, time, record));
        }
    }

    private readonly record struct Open(byte Transaction, int Parameter, int Part, bool IsSet, int Value, RdmUid By, Timestamp Time, long Record);
}
