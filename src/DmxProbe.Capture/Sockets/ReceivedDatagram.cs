using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Sockets;

/// <summary>A datagram that came in by a socket; a view, valid until the receiver is asked for the next.</summary>
internal readonly ref struct ReceivedDatagram
{
    /// <summary>Room before the payload, for the header that is made up.</summary>
    public required Span<byte> Buffer { get; init; }

    /// <summary>Where in <see cref="Buffer"/> the payload begins: at least <see cref="FrameHeader.Longest"/>.</summary>
    public required int PayloadAt { get; init; }

    /// <summary>Octets of payload that were sent; more than are here where the datagram was cut.</summary>
    public required int TrueLength { get; init; }

    /// <summary>When it came.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>The system's number of the interface; 0 where it is not told.</summary>
    public required int InterfaceIndex { get; init; }

    /// <summary>The sender.</summary>
    public required IpAddress Source { get; init; }

    /// <summary>The sender's port.</summary>
    public required ushort SourcePort { get; init; }

    /// <summary>The address it was sent to; the default where that is not told.</summary>
    public required IpAddress Destination { get; init; }

    /// <summary>The port it was sent to.</summary>
    public required ushort DestinationPort { get; init; }

    /// <summary>Datagrams the kernel dropped at this socket just before.</summary>
    public long LostBefore { get; init; }
}
