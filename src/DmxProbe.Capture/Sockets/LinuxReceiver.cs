using System.Buffers.Binary;
using System.Runtime.InteropServices;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using static DmxProbe.Capture.Sockets.LinuxNative;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// Sockets by the kernel's own calls: one for each 20 groups, which hears only those (IP_MULTICAST_ALL = 0), so that no
/// receive buffer has to hold the frame of a whole rig; kernel time stamps, interface, destination and drop count come with
/// every datagram.
/// </summary>
internal sealed unsafe class LinuxReceiver : IDatagramReceiver
{
    private const int GroupsEach = 20; // net.ipv4.igmp_max_memberships, unless somebody changed it
    private const int FirstBatch = 256;
    private const int GroupBatch = 32;
    private const int FewDatagrams = 32;

    private readonly SteadyClock _clock;
    private readonly int _bufferAsked;
    private readonly List<LinuxSocket> _sockets = [];
    private readonly PriorityQueue<LinuxSocket, long> _heads = new();
    private PollEntry[] _polled = [];
    private LinuxSocket? _delivered;
    private long _cutoff;
    private int _thisRound;
    private int _groupsEach = GroupsEach;

    /// <summary>Opens the lighting ports.</summary>
    /// <exception cref="PortTakenException">Another program has one of them.</exception>
    /// <exception cref="IOException">The system refuses sockets.</exception>
    public LinuxReceiver(SteadyClock clock, int buffer)
    {
        _clock = clock;
        _bufferAsked = buffer;
        try
        {
            foreach (ushort port in new[] { ArtNetHeader.Port, SacnAddressing.Port })
            {
                _ = Open(isIpv6: false, port, isFirst: true) ?? throw new IOException("a UDP socket could not be opened: " + LinuxSocketSetup.LastError);

                // A system without IPv6 has none; nothing is missed.
                _ = Open(isIpv6: true, port, isFirst: true);
            }
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public int GrantedBuffer { get; private set; } = int.MaxValue;

    /// <inheritdoc/>
    public bool CountsDrops => true;

    /// <inheritdoc/>
    public StampedBy StampedBy => StampedBy.Kernel;

    /// <summary>How many sockets are open.</summary>
    public int SocketCount => _sockets.Count;

    /// <inheritdoc/>
    public bool Wait(int milliseconds)
    {
        Return();

        // A nap after a round that brought little: kernel stamps are as good later, and a burst is then read in few calls.
        if (_thisRound is > 0 and < FewDatagrams && milliseconds > 0)
        {
            _ = Poll(null, 0, 1);
        }

        _thisRound = 0;
        if (_polled.Length != _sockets.Count)
        {
            _polled = [.. _sockets.Select(socket => new PollEntry { Socket = socket.Descriptor, Asked = PollIn })];
        }

        fixed (PollEntry* entries = _polled)
        {
            if (_heads.Count == 0 && Poll(entries, (nuint)_polled.Length, milliseconds) <= 0)
            {
                return false;
            }

            // What a socket that is empty now brings later is stamped later: so far the order is certain.
            _cutoff = _clock.Now().UnixNanoseconds;
            if (Poll(entries, (nuint)_polled.Length, 0) > 0)
            {
                for (int i = 0; i < _polled.Length; i++)
                {
                    if (_polled[i].Came != 0 && !_sockets[i].HasNext && !_sockets[i].IsAhead)
                    {
                        Offer(_sockets[i], _sockets[i].Fill());
                    }
                }
            }
        }

        return _heads.Count > 0;
    }

    /// <inheritdoc/>
    public bool TryNext(out ReceivedDatagram datagram)
    {
        Return();
        if (!_heads.TryPeek(out LinuxSocket? socket, out long time) || (time > _cutoff && _thisRound > 0))
        {
            datagram = default;
            return false;
        }

        _ = _heads.Dequeue();
        _delivered = socket;
        _thisRound++;
        datagram = new ReceivedDatagram
        {
            Buffer = socket.Buffer,
            PayloadAt = LinuxSocket.PayloadAt,
            TrueLength = socket.TrueLength,
            Time = Timestamp.FromUnixNanoseconds(time),
            InterfaceIndex = socket.InterfaceIndex,
            Source = socket.Source,
            SourcePort = socket.SourcePort,
            Destination = socket.Destination,
            DestinationPort = socket.Port,
            LostBefore = socket.LostBefore,
        };
        return true;
    }

    /// <inheritdoc/>
    public long TakeDrops()
    {
        long lost = 0;
        foreach (LinuxSocket socket in _sockets)
        {
            lost += socket.TakeDrops();
        }

        return lost;
    }

    /// <inheritdoc/>
    public string? Join(IpAddress group, InterfaceInfo through)
    {
        LinuxSocket? socket = _sockets.Find(each => !each.IsFirst && each.IsIpv6 == group.IsIpv6 && each.Groups.Count < _groupsEach);
        bool isNew = socket is null;
        socket ??= Open(group.IsIpv6, SacnAddressing.Port, isFirst: false);
        if (socket is null)
        {
            return LinuxSocketSetup.LastError;
        }

        if (LinuxSocketSetup.Member(socket.Descriptor, group, through.Index, join: true))
        {
            socket.Groups.Add((group, through.Index));
            return null;
        }

        int error = Marshal.GetLastPInvokeError();
        if (error is ErrorNoBuffers or ErrorNoMemory && !isNew && socket.Groups.Count > 0)
        {
            // This system allows fewer groups a socket than others do.
            _groupsEach = socket.Groups.Count;
            return Join(group, through);
        }

        return LinuxSocketSetup.Sentence(error);
    }

    /// <inheritdoc/>
    public bool Send(ReadOnlySpan<byte> payload, IpAddress to, ushort port)
    {
        LinuxSocket from = _sockets.First(each => !each.IsIpv6 && each.Port == ArtNetHeader.Port);
        byte* address = stackalloc byte[16];
        new Span<byte>(address, 16).Clear();
        *(ushort*)address = AddressFamilyIpv4;
        *(ushort*)(address + 2) = BinaryPrimitives.ReverseEndianness(port);
        to.CopyTo(new Span<byte>(address + 4, 4));
        fixed (byte* octets = payload)
        {
            return SendTo(from.Descriptor, octets, (nuint)payload.Length, DontWait, address, 16) == payload.Length;
        }
    }

    /// <inheritdoc/>
    public void Leave(IpAddress group, int interfaceIndex)
    {
        foreach (LinuxSocket socket in _sockets)
        {
            if (socket.Groups.Remove((group, interfaceIndex)))
            {
                _ = LinuxSocketSetup.Member(socket.Descriptor, group, interfaceIndex, join: false);
            }
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (LinuxSocket socket in _sockets)
        {
            socket.Dispose();
        }

        _sockets.Clear();
        _heads.Clear();
        _delivered = null;
    }

    private LinuxSocket? Open(bool isIpv6, ushort port, bool isFirst)
    {
        int descriptor = LinuxSocketSetup.Open(isIpv6, port, isFirst);
        if (descriptor < 0)
        {
            return null;
        }

        GrantedBuffer = Math.Min(GrantedBuffer, LinuxSocketSetup.GrantBuffer(descriptor, _bufferAsked));
        LinuxSocket socket = new(descriptor, isIpv6, port, isFirst, isFirst && !isIpv6 ? FirstBatch : GroupBatch);
        _sockets.Add(socket);
        return socket;
    }

    // The datagram delivered last is only now done with: its socket's next takes its place among the others.
    private void Return()
    {
        if (_delivered is LinuxSocket socket)
        {
            _delivered = null;
            socket.IsAhead = false;
            Offer(socket, socket.HasNext);
        }
    }

    private void Offer(LinuxSocket socket, bool more)
    {
        // A read that did not fill its room has emptied the socket; asking again would cost a call for nothing.
        while (more || (socket.MayHoldMore && socket.Fill()))
        {
            if (socket.Advance())
            {
                socket.IsAhead = true;
                _heads.Enqueue(socket, _clock.Of(socket.Stamped).UnixNanoseconds);
                return;
            }

            more = socket.HasNext;
        }
    }
}
