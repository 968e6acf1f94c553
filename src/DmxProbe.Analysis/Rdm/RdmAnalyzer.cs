using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>
/// RDM (ANSI E1.20, known from secondary sources) as it passes on lines, serial ports and in Art-Net: which devices there are,
/// where each says that it reads, how they answer, and what it costs the levels. Listens only. Nothing is allocated for a
/// frame of levels. Feed it frames of START code CCh, and those of lines and serial ports.
/// </summary>
public sealed class RdmAnalyzer : IAnalyzer
{
    /// <summary>Most devices that hold state; messages of further ones are counted.</summary>
    public const int MostDevices = 4096;

    private const int MostPorts = 4096;
    private const byte Flush = 1;

    // The latest that a responder may begin, microseconds after the end of the request (ANSI E1.20, secondary sources).
    private const double LatestAnswer = 2000;

    private readonly Dictionary<(UniverseId Universe, long Uid), RdmDeviceState> _devices = [];
    private readonly Dictionary<UniverseId, RdmPortState> _ports = [];
    private readonly Dictionary<UniverseId, int> _lineIndexes = [];
    private readonly PerIndex<LevelsBesideRdm> _levels = new();
    private long _notListed;
    private Timestamp _now = Timestamp.MinValue;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        bool isLocal = frame.Universe.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial;
        if (frame.StartCode != StartCode.Rdm)
        {
            if (isLocal && frame.StartCode == StartCode.Null)
            {
                _levels[frame.UniverseIndex].Levels(frame.Time, frame.Slots.Length, (frame.Flags & FrameFlags.SlotsCut) != 0);
            }

            return;
        }

        if (isLocal)
        {
            _lineIndexes.TryAdd(frame.Universe, frame.UniverseIndex);
            _levels[frame.UniverseIndex].Rdm(frame.Time, frame.Record);
        }

        if ((frame.Flags & FrameFlags.SlotsCut) != 0 || Port(frame.Universe, frame.Time, frame.Record) is not RdmPortState port)
        {
            return;
        }

        port.Answering = null;
        if ((frame.Flags & FrameFlags.Damaged) != 0 || !RdmPacket.TryParseWithoutStartCode(frame.Slots, out RdmPacket packet, out _) || !IsWhole(in packet))
        {
            port.Asked?.Garbled();
            port.Asked = null;
            port.Spoilt(frame.Time, frame.Record);
            return;
        }

        Message(port, frame.Universe, in packet, frame.Time, frame.Record, isLine: true);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind is not (LinkEventKind.RdmDiscoveryReply or LinkEventKind.RdmDiscoveryCollision)
            || Port(linkEvent.Universe, linkEvent.Time, linkEvent.Record) is not RdmPortState port)
        {
            return;
        }

        if (linkEvent.Kind == LinkEventKind.RdmDiscoveryReply)
        {
            port.DiscoveryReplies++;
            if (Device(linkEvent.Universe, new RdmUid(linkEvent.A), linkEvent.Time, linkEvent.Record) is RdmDeviceState found)
            {
                found.IsHeard = true;
            }

            return;
        }

        port.DiscoveryCollisions++;
        if (port.SearchedAlone >= 0 && Device(linkEvent.Universe, new RdmUid(port.SearchedAlone), linkEvent.Time, linkEvent.Record) is RdmDeviceState alone)
        {
            alone.CollidedAlone(linkEvent.Time, linkEvent.Record);
        }
    }

    /// <inheritdoc/>
    public void OnLineTiming(in LineTiming timing)
    {
        if (timing.Kind == LinePacketKind.RdmResponse
            && timing.Previous == LinePacketKind.RdmRequest
            && !double.IsNaN(timing.SincePrevious)
            && _ports.TryGetValue(timing.Universe, out RdmPortState? port)
            && port.Answering is RdmDeviceState device)
        {
            device.Took(Duration.FromNanoseconds((long)(timing.SincePrevious * 1000)));
            if (timing.SincePrevious > LatestAnswer + timing.SamplePeriod)
            {
                device.WasLate(timing.Time, timing.Record);
            }
        }
    }

    /// <inheritdoc/>
    public void OnRdm(in RdmTraffic traffic)
    {
        switch (traffic.OpCode)
        {
            case ArtOpCode.Rdm when ArtRdmPacket.TryParse(traffic.Payload, out ArtRdmPacket carrier, out _):
                Carried(in traffic, in carrier);
                break;
            case ArtOpCode.TodData when ArtTodDataPacket.TryParse(traffic.Payload, out ArtTodDataPacket table, out _):
                Table(in traffic, in table);
                break;
            case ArtOpCode.TodControl when ArtTodControlPacket.TryParse(traffic.Payload, out ArtTodControlPacket control, out _):
                if (control.Command == Flush && Port(Of(control.PortAddress), traffic.Time, traffic.Record) is RdmPortState port)
                {
                    port.Flushes++;
                }

                break;
            case ArtOpCode.RdmSub when ArtRdmSubPacket.TryParse(traffic.Payload, out ArtRdmSubPacket parts, out _):
                Parts(in traffic, in parts);
                break;
            default:
                break;
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now) => _now = now > _now ? now : _now;

    /// <summary>What is known up to the time last told; null where no RDM passed.</summary>
    public RdmSnapshot? Snapshot() => _ports.Count == 0 ? null : new RdmSnapshot(
        [.. _devices.OrderBy(pair => pair.Key.Universe).ThenBy(pair => pair.Key.Uid).Select(pair => pair.Value.Snapshot(_now))],
        [.. _ports.OrderBy(pair => pair.Key).Select(pair => pair.Value.Snapshot(_lineIndexes.TryGetValue(pair.Key, out int index) ? _levels[index].Snapshot() : null))],
        _notListed);

    private static UniverseId Of(int portAddress) => new(UniverseProtocol.ArtNet, portAddress);

    private static bool IsWhole(in RdmPacket packet) => packet.IsChecksumRight && packet.IsDataLengthRight;

    private void Carried(in RdmTraffic traffic, in ArtRdmPacket carrier)
    {
        UniverseId universe = Of(carrier.PortAddress);
        if (Port(universe, traffic.Time, traffic.Record) is not RdmPortState port)
        {
            return;
        }

        if (!RdmPacket.TryParseWithoutStartCode(carrier.Message, out RdmPacket packet, out _) || !IsWhole(in packet))
        {
            port.Spoilt(traffic.Time, traffic.Record);
            return;
        }

        Message(port, universe, in packet, traffic.Time, traffic.Record, isLine: false);
    }

    private void Message(RdmPortState port, UniverseId universe, in RdmPacket packet, Timestamp time, long record, bool isLine)
    {
        if (packet.IsResponse)
        {
            Answer(port, universe, in packet, time, record, isLine);
            return;
        }

        if (isLine)
        {
            port.Asked?.GivenUp();
            port.Asked = null;
        }

        port.SearchedAlone = -1;
        if (packet.CommandClass == RdmCommandClass.Discovery && packet.Parameter == RdmParameter.DiscoverUniqueBranch)
        {
            port.Discoveries++;
            ReadOnlySpan<byte> bounds = packet.Data;
            if (bounds.Length >= 2 * RdmUid.Size && bounds[..RdmUid.Size].SequenceEqual(bounds.Slice(RdmUid.Size, RdmUid.Size)))
            {
                port.SearchedAlone = RdmUid.Read(bounds).Value;
            }
        }
        else if (packet.Destination.IsBroadcast)
        {
            port.Broadcasts++;
        }
        else if (packet.CommandClass is RdmCommandClass.Get or RdmCommandClass.Set && Device(universe, packet.Destination, time, record) is RdmDeviceState device)
        {
            port.Requests++;
            device.Asked(in packet, time, record);
            port.Asked = isLine ? device : null;
        }
    }

    private void Answer(RdmPortState port, UniverseId universe, in RdmPacket packet, Timestamp time, long record, bool isLine)
    {
        if (packet.Source.IsBroadcast || Device(universe, packet.Source, time, record) is not RdmDeviceState device)
        {
            return;
        }

        if (packet.CommandClass is not (RdmCommandClass.GetResponse or RdmCommandClass.SetResponse))
        {
            device.IsHeard = true;
            return;
        }

        port.Answers++;
        device.Answers(in packet, time, record, isLine);
        if (isLine)
        {
            port.Asked = port.Asked == device ? null : port.Asked;
            port.Answering = device;
        }
    }

    private void Table(in RdmTraffic traffic, in ArtTodDataPacket table)
    {
        UniverseId universe = Of(table.PortAddress);
        if (Port(universe, traffic.Time, traffic.Record) is not RdmPortState port || table.IsNotAvailable)
        {
            return;
        }

        long[] uids = new long[table.UidsPresent];
        for (int i = 0; i < uids.Length; i++)
        {
            uids[i] = table.Uid(i).Value;
            if (Device(universe, new RdmUid(uids[i]), traffic.Time, traffic.Record) is RdmDeviceState device)
            {
                device.InTable(traffic.Time, traffic.Record);
            }
        }

        port.Block(table.Block, uids, table.UidTotal, out IReadOnlyCollection<long> gone);
        foreach (long uid in gone)
        {
            if (_devices.TryGetValue((universe, uid), out RdmDeviceState? device))
            {
                device.LeftTable(traffic.Time, traffic.Record);
            }
        }
    }

    // ArtRdmSub names no Port-Address: the device must be known from elsewhere, on one universe.
    private void Parts(in RdmTraffic traffic, in ArtRdmSubPacket parts)
    {
        if (parts.Parameter != RdmParameter.StartAddress || parts.CommandClass != RdmCommandClass.GetResponse)
        {
            return;
        }

        long uid = parts.Uid.Value;
        if (_devices.Values.Where(known => known.Uid.Value == uid).Take(2).ToArray() is not [RdmDeviceState device])
        {
            return;
        }

        for (int i = 0; i < parts.ValueCount; i++)
        {
            device.PartAddress(parts.FirstSubDevice + i, parts.Value(i), traffic.Time);
        }
    }

    private RdmPortState? Port(UniverseId universe, Timestamp time, long record)
    {
        if (_ports.TryGetValue(universe, out RdmPortState? port))
        {
            port.Seen(time);
            return port;
        }

        if (_ports.Count >= MostPorts)
        {
            _notListed++;
            return null;
        }

        port = new RdmPortState(universe, time, record);
        _ports.Add(universe, port);
        return port;
    }

    private RdmDeviceState? Device(UniverseId universe, RdmUid uid, Timestamp time, long record)
    {
        if (_devices.TryGetValue((universe, uid.Value), out RdmDeviceState? device))
        {
            device.Seen(time);
            return device;
        }

        if (_devices.Count >= MostDevices)
        {
            _notListed++;
            return null;
        }

        device = new RdmDeviceState(universe, uid, time, record);
        _devices.Add((universe, uid.Value), device);
        return device;
    }
}
