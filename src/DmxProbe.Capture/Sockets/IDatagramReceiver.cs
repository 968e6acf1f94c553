using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Sockets;

/// <summary>The sockets of the lighting ports: everything that differs between operating systems. Used by one thread.</summary>
internal interface IDatagramReceiver : IDisposable
{
    /// <summary>Octets of receive buffer the system granted each socket.</summary>
    int GrantedBuffer { get; }

    /// <summary>Whether datagrams that the system dropped are counted.</summary>
    bool CountsDrops { get; }

    /// <summary>Who stamps the datagrams.</summary>
    StampedBy StampedBy { get; }

    /// <summary>Waits until something came; call <see cref="TryNext"/> until it says no.</summary>
    /// <returns>False where nothing came for so long.</returns>
    bool Wait(int milliseconds);

    /// <summary>The next datagram of this round, by time.</summary>
    bool TryNext(out ReceivedDatagram datagram);

    /// <summary>Datagrams dropped and not told with a later one; only meaningful after <see cref="Wait"/> said no.</summary>
    long TakeDrops();

    /// <summary>Joins a group.</summary>
    /// <returns>Null, or why the system refused.</returns>
    string? Join(IpAddress group, InterfaceInfo through);

    /// <summary>Sends from the Art-Net port; only the announcer does.</summary>
    /// <returns>Whether the system took it.</returns>
    bool Send(ReadOnlySpan<byte> payload, IpAddress to, ushort port);

    /// <summary>Leaves a group; an interface that is gone has left by itself.</summary>
    void Leave(IpAddress group, int interfaceIndex);
}
