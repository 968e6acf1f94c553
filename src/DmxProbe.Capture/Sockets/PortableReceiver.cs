using System.Net;
using System.Net.Sockets;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// Sockets as .NET offers them everywhere: one a port, our own time stamps, no drop count. Where a socket takes no more groups
/// (20 on Linux) further ones join for it; there a host hears on every socket what any of them joined.
/// </summary>
internal sealed class PortableReceiver : IDatagramReceiver
{
    private const int HeadRoom = 64;

    private readonly SteadyClock _clock;
    private readonly List<Socket> _receiving = [];
    private readonly List<Socket> _joining = [];
    private readonly List<(Socket Socket, IpAddress Group, int Index)> _groups = [];
    private readonly byte[] _buffer = new byte[HeadRoom + ushort.MaxValue];
    private readonly List<Socket> _ready = [];

    /// <summary>Opens the lighting ports.</summary>
    /// <exception cref="PortTakenException">Another program has one of them.</exception>
    /// <exception cref="IOException">The system refuses sockets.</exception>
    public PortableReceiver(SteadyClock clock, int buffer)
    {
        _clock = clock;
        try
        {
            foreach (ushort port in new[] { ArtNetHeader.Port, SacnAddressing.Port })
            {
                Open(AddressFamily.InterNetwork, port, buffer);
                if (Socket.OSSupportsIPv6)
                {
                    Open(AddressFamily.InterNetworkV6, port, buffer);
                }
            }
        }
        catch (SocketException refused)
        {
            Dispose();
            throw new IOException("a UDP socket could not be opened: " + refused.Message, refused);
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
    public bool CountsDrops => false;

    /// <inheritdoc/>
    public StampedBy StampedBy => StampedBy.OurRead;

    /// <inheritdoc/>
    public bool Wait(int milliseconds)
    {
        _ready.Clear();
        _ready.AddRange(_receiving);
        Socket.Select(_ready, null, null, milliseconds * 1000);
        return _ready.Count > 0;
    }

    /// <inheritdoc/>
    public bool TryNext(out ReceivedDatagram datagram)
    {
        while (_ready.Count > 0)
        {
            Socket socket = _ready[^1];
            try
            {
                if (socket.Available > 0 || socket.Poll(0, SelectMode.SelectRead))
                {
                    datagram = Receive(socket);
                    return true;
                }
            }
            catch (SocketException)
            {
                // A refusal from the network by an earlier datagram; the socket goes on.
            }

            _ready.RemoveAt(_ready.Count - 1);
        }

        datagram = default;
        return false;
    }

    /// <inheritdoc/>
    public long TakeDrops() => 0;

    /// <inheritdoc/>
    public string? Join(IpAddress group, InterfaceInfo through)
    {
        AddressFamily family = group.IsIpv6 ? AddressFamily.InterNetworkV6 : AddressFamily.InterNetwork;
        IEnumerable<Socket> candidates = _receiving
            .Where(socket => socket.AddressFamily == family && ((IPEndPoint)socket.LocalEndPoint!).Port == SacnAddressing.Port)
            .Concat(_joining.Where(socket => socket.AddressFamily == family).TakeLast(1));
        foreach (Socket socket in candidates)
        {
            if (TryJoin(socket, group, through, out string? refusal))
            {
                return refusal;
            }
        }

        Socket further = new(family, SocketType.Dgram, ProtocolType.Udp);
        _joining.Add(further);
        return TryJoin(further, group, through, out string? last) ? last : "this socket takes no more groups";
    }

    /// <inheritdoc/>
    public bool Send(ReadOnlySpan<byte> payload, IpAddress to, ushort port)
    {
        try
        {
            return _receiving[0].SendTo(payload, SocketFlags.None, new IPEndPoint(IPAddress.Parse(to.ToString()), port)) == payload.Length;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Leave(IpAddress group, int interfaceIndex)
    {
        foreach ((Socket Socket, IpAddress Group, int Index) joined in _groups.FindAll(each => each.Group == group && each.Index == interfaceIndex))
        {
            _groups.Remove(joined);
            try
            {
                Member(joined.Socket, group, interfaceIndex, join: false);
            }
            catch (SocketException)
            {
                // The interface is gone, and its memberships with it.
            }
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _receiving.ForEach(socket => socket.Dispose());
        _joining.ForEach(socket => socket.Dispose());
    }

    private static IpAddress Convert(IPAddress address)
    {
        Span<byte> octets = stackalloc byte[16];
        _ = address.TryWriteBytes(octets, out int length);
        return length == 16
            ? IpAddress.FromIpv6(octets)
            : IpAddress.FromIpv4(System.Buffers.Binary.BinaryPrimitives.ReadUInt32BigEndian(octets));
    }

    private static IpAddress Unspecified(Socket socket) =>
        socket.AddressFamily == AddressFamily.InterNetworkV6 ? IpAddress.FromIpv6(0, 0) : default;

    private static void Member(Socket socket, IpAddress group, int index, bool join)
    {
        IPAddress address = IPAddress.Parse(group.ToString());
        SocketOptionName name = join ? SocketOptionName.AddMembership : SocketOptionName.DropMembership;
        if (group.IsIpv6)
        {
            socket.SetSocketOption(SocketOptionLevel.IPv6, name, new IPv6MulticastOption(address, index));
        }
        else
        {
            socket.SetSocketOption(SocketOptionLevel.IP, name, new MulticastOption(address, index));
        }
    }

    // False only where this socket is full.
    private bool TryJoin(Socket socket, IpAddress group, InterfaceInfo through, out string? refusal)
    {
        refusal = null;
        try
        {
            Member(socket, group, through.Index, join: true);
            _groups.Add((socket, group, through.Index));
            return true;
        }
        catch (SocketException full) when (full.SocketErrorCode == SocketError.NoBufferSpaceAvailable)
        {
            return false;
        }
        catch (SocketException refused)
        {
            refusal = refused.Message;
            return true;
        }
    }

    private void Open(AddressFamily family, ushort port, int buffer)
    {
        Socket socket = new(family, SocketType.Dgram, ProtocolType.Udp);
        _receiving.Add(socket);
        if (family == AddressFamily.InterNetworkV6)
        {
            socket.DualMode = false;
        }

        if (OperatingSystem.IsWindows())
        {
            socket.ExclusiveAddressUse = true;
        }

        socket.ReceiveBufferSize = buffer;
        GrantedBuffer = Math.Min(GrantedBuffer, socket.ReceiveBufferSize);
        socket.SetSocketOption(
            family == AddressFamily.InterNetworkV6 ? SocketOptionLevel.IPv6 : SocketOptionLevel.IP,
            SocketOptionName.PacketInformation,
            true);
        try
        {
            socket.Bind(new IPEndPoint(family == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any, port));
        }
        catch (SocketException taken) when (taken.SocketErrorCode is SocketError.AddressAlreadyInUse or SocketError.AccessDenied)
        {
            throw new PortTakenException(port);
        }
    }

    private ReceivedDatagram Receive(Socket socket)
    {
        SocketFlags flags = SocketFlags.None;
        EndPoint from = new IPEndPoint(socket.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any, 0);
        int length = socket.ReceiveMessageFrom(_buffer.AsSpan(HeadRoom), ref flags, ref from, out IPPacketInformation to);
        IPEndPoint sender = (IPEndPoint)from;
        return new ReceivedDatagram
        {
            Buffer = _buffer.AsSpan(0, HeadRoom + length),
            PayloadAt = HeadRoom,
            TrueLength = length,
            Time = _clock.Now(),
            InterfaceIndex = to.Interface,
            Source = Convert(sender.Address),
            SourcePort = (ushort)sender.Port,
            Destination = to.Address is IPAddress address ? Convert(address) : Unspecified(socket),
            DestinationPort = (ushort)((IPEndPoint)socket.LocalEndPoint!).Port,
        };
    }
}
