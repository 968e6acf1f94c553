using System.Net;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// <c>net</c>: what reaches the UDP ports of Art-Net and sACN on this computer, as packets whose headers are made up. Sends
/// nothing but joins. Read by one thread.
/// </summary>
internal sealed class NetSource : ILiveSource
{
    private const int WaitMilliseconds = 20;
    private static readonly Duration LookEvery = Duration.FromSeconds(1);
    private static readonly Duration LongestFinish = Duration.FromSeconds(1);

    private readonly LiveSettings _settings;
    private readonly SteadyClock _clock;
    private readonly IDatagramReceiver _receiver;
    private readonly InterfaceWatch _watch;
    private readonly GroupKeeper _groups;
    private readonly IPAddress? _only;
    private readonly IpAddress _onlyAddress;
    private readonly Dictionary<int, int> _idOfIndex = [];
    private readonly Queue<(int InterfaceId, long Lost)> _losses = new();
    private CaptureInterface[] _interfaces = [];
    private Timestamp _now;
    private Timestamp _nextLook;
    private Timestamp _finishBy = Timestamp.MaxValue;
    private long _records;
    private long _carried;
    private bool _toldDropsDue;
    private bool _ended;
    private volatile bool _stop;

    /// <summary>Starts listening.</summary>
    /// <param name="name">The input as the person gave it.</param>
    /// <param name="settings">How to listen.</param>
    /// <param name="only">Listen on the interface with this address only; null: on all but the loopback.</param>
    /// <param name="clock">The capture's time.</param>
    /// <param name="receiver">The sockets; owned.</param>
    public NetSource(string name, LiveSettings settings, IPAddress? only, SteadyClock clock, IDatagramReceiver receiver)
    {
        Name = name;
        _settings = settings;
        _only = only;
        _onlyAddress = only is null ? default : Convert(only);
        _clock = clock;
        _receiver = receiver;
        _groups = new GroupKeeper(receiver, settings);
        _watch = new InterfaceWatch(settings, only) { WentDown = WentDown, CameUp = CameUp };
        clock.Stepped = Stepped;
        clock.Slept = Slept;
        _now = clock.Now();
        _watch.Look();
        _nextLook = _now + LookEvery;
        if (_interfaces.Length == 0)
        {
            Describe(-1, Name, "no interface with a link yet");
        }
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => Volatile.Read(ref _interfaces);

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>The interfaces listened on.</summary>
    public InterfaceWatch Watch => _watch;

    /// <summary>The groups joined.</summary>
    public GroupKeeper Groups => _groups;

    /// <inheritdoc/>
    public void Stop() => _stop = true;

    /// <summary>Joins further universes; call on the thread that reads.</summary>
    public void Join(IEnumerable<int> universes)
    {
        if (_groups.Add(universes))
        {
            _groups.Join(_watch.Up);
        }
    }

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        while (true)
        {
            if (_losses.TryDequeue(out (int InterfaceId, long Lost) loss))
            {
                record = new CaptureRecord
                {
                    Number = ++_records,
                    Time = _now,
                    Kind = RecordKind.Loss,
                    InterfaceId = loss.InterfaceId,
                    LinkType = LinkType.Ethernet,
                    LostBefore = loss.Lost,
                };
                return ReadStatus.Record;
            }

            if (_receiver.TryNext(out ReceivedDatagram datagram))
            {
                _carried += datagram.LostBefore;
                if (IsWanted(in datagram))
                {
                    record = Packet(datagram);
                    return ReadStatus.Record;
                }

                continue;
            }

            Timestamp now = _clock.Now();
            if (_ended)
            {
                record = default;
                return ReadStatus.End;
            }

            if (now >= _nextLook)
            {
                Look(now);
                continue;
            }

            if (_stop && _finishBy == Timestamp.MaxValue)
            {
                _finishBy = now + LongestFinish;
            }

            if (!_receiver.Wait(_stop ? 0 : WaitMilliseconds))
            {
                // Nothing is waiting: what was dropped and not told with a later datagram can be told.
                if (_stop || _toldDropsDue)
                {
                    _toldDropsDue = false;
                    _ended = _stop;
                    Lost(0, _receiver.TakeDrops() + _carried);
                    _carried = 0;
                    if (_losses.Count > 0 || _ended)
                    {
                        continue;
                    }
                }

                if (now > _now)
                {
                    _now = now;
                }

                record = new CaptureRecord { Number = _records, Time = _now, InterfaceId = 0 };
                return ReadStatus.Idle;
            }

            _ended = now > _finishBy; // a flood must not keep it from ending
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _receiver.Dispose();

    private static IpAddress Convert(IPAddress address)
    {
        byte[] octets = address.GetAddressBytes();
        return octets.Length == 16
            ? IpAddress.FromIpv6(octets)
            : IpAddress.FromIpv4(System.Buffers.Binary.BinaryPrimitives.ReadUInt32BigEndian(octets));
    }

    private bool IsWanted(in ReceivedDatagram datagram)
    {
        if (_only is null || datagram.InterfaceIndex == 0)
        {
            return true;
        }

        foreach (InterfaceInfo up in _watch.Up)
        {
            if (up.Index == datagram.InterfaceIndex)
            {
                return true;
            }
        }

        return datagram.Destination == _onlyAddress;
    }

    private CaptureRecord Packet(ReceivedDatagram datagram)
    {
        if (!_idOfIndex.TryGetValue(datagram.InterfaceIndex, out int id))
        {
            id = DescribeUnknown(datagram.InterfaceIndex);
        }

        long lost = _carried;
        _carried = 0;
        if (datagram.Time > _now)
        {
            _now = datagram.Time;
        }

        ReadOnlySpan<byte> packet = FrameHeader.Write(datagram);
        return new CaptureRecord
        {
            Number = ++_records,
            Time = datagram.Time,
            InterfaceId = id,
            LinkType = LinkType.Ethernet,
            OriginalLength = (datagram.Source.IsIpv6 ? FrameHeader.Ipv6Length : FrameHeader.Ipv4Length) + datagram.TrueLength,
            LostBefore = lost,
            Data = packet,
        };
    }

    private void Look(Timestamp now)
    {
        _nextLook = now + LookEvery;
        _toldDropsDue = true;
        _watch.Look();
        foreach (InterfaceInfo down in _watch.Down)
        {
            // Deaf: at least something is missed, and nobody can say that a sender was silent.
            Lost(_idOfIndex.GetValueOrDefault(down.Index), 1);
        }
    }

    private void Lost(int interfaceId, long lost)
    {
        if (lost > 0)
        {
            _losses.Enqueue((interfaceId, lost));
        }
    }

    private void CameUp(InterfaceInfo now, bool isBack)
    {
        int id = _idOfIndex.GetValueOrDefault(now.Index, -1);
        if (id < 0)
        {
            id = Array.FindIndex(_interfaces, each => each.Name == now.Name);
            id = id < 0 ? Describe(now.Index, now.Name, $"UDP sockets on {now.Described}") : id;
            _idOfIndex[now.Index] = id;
        }

        _groups.Join([now]);
        if (isBack)
        {
            Lost(id, 1);
        }
    }

    private void WentDown(InterfaceInfo was, bool isGone)
    {
        Lost(_idOfIndex.GetValueOrDefault(was.Index), 1);
        if (isGone)
        {
            _groups.Forget(was.Index);
        }
    }

    private int DescribeUnknown(int index)
    {
        InterfaceInfo? known = _watch.All.FirstOrDefault(each => each.Index == index);
        string name = known?.Name ?? "interface " + index;
        int id = Describe(index, name, $"UDP sockets on {known?.Described ?? name}");
        _idOfIndex[index] = id;
        return id;
    }

    private int Describe(int index, string name, string where)
    {
        int id = _interfaces.Length;
        CaptureInterface added = new(
            id,
            name,
            where + "; Ethernet, IP and UDP headers are made up, addresses and ports are as received",
            LinkType.Ethernet,
            LiveInterface.SnapLength,
            Duration.FromNanoseconds(_receiver.StampedBy == StampedBy.Kernel ? 1 : 100),
            _receiver.StampedBy);
        Volatile.Write(ref _interfaces, [.. _interfaces, added]);
        _idOfIndex.TryAdd(index, id);
        return id;
    }

    private void Stepped(Duration by)
    {
        string direction = by > Duration.Zero ? "forward" : "back";
        _settings.Tell(new LiveNotice(
            "clock-set",
            false,
            FormattableString.Invariant($"this computer's clock was set {Math.Abs(by.TotalSeconds):0.0} s {direction}; the times of this capture go on as if it had not been")));
    }

    private void Slept(Duration how)
    {
        Lost(0, 1);
        _settings.Tell(new LiveNotice(
            "slept",
            true,
            FormattableString.Invariant($"this computer slept for {how.TotalSeconds:0} s and heard nothing meanwhile")));
    }
}
