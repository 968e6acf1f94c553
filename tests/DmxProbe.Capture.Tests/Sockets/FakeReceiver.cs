using DmxProbe.Capture.Live;
using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Sockets;

/// <summary>Sockets that the test fills; remembers what was joined, left and sent.</summary>
internal sealed class FakeReceiver(Action wait) : IDatagramReceiver
{
    private readonly Queue<(Timestamp Time, int Index, string From, string To, ushort Port, byte[] Payload)> _waiting = new();

    public List<string> Joined { get; } = [];

    public List<string> Left { get; } = [];

    public List<(string To, byte[] Payload)> Sent { get; } = [];

    public long Drops { get; set; }

    public int GrantedBuffer => 1;

    public bool CountsDrops => true;

    public StampedBy StampedBy => StampedBy.Kernel;

    public void Arrive(Timestamp time, int index, string from, string to, ushort port, byte[] payload) =>
        _waiting.Enqueue((time, index, from, to, port, payload));

    public bool Wait(int milliseconds)
    {
        wait();
        return _waiting.Count > 0;
    }

    public bool TryNext(out ReceivedDatagram datagram)
    {
        if (!_waiting.TryDequeue(out (Timestamp Time, int Index, string From, string To, ushort Port, byte[] Payload) next))
        {
            datagram = default;
            return false;
        }

        datagram = new ReceivedDatagram
        {
            Buffer = (byte[])[.. new byte[64], .. next.Payload],
            PayloadAt = 64,
            TrueLength = next.Payload.Length,
            Time = next.Time,
            InterfaceIndex = next.Index,
            Source = Address(next.From),
            SourcePort = 50_000,
            Destination = Address(next.To),
            DestinationPort = next.Port,
        };
        return true;
    }

    public long TakeDrops()
    {
        long drops = Drops;
        Drops = 0;
        return drops;
    }

    public string? Join(IpAddress group, InterfaceInfo through)
    {
        Joined.Add($"{group}%{through.Index}");
        return null;
    }

    public bool Send(ReadOnlySpan<byte> payload, IpAddress to, ushort port)
    {
        Sent.Add(($"{to}:{port}", payload.ToArray()));
        return true;
    }

    public void Leave(IpAddress group, int interfaceIndex) => Left.Add($"{group}%{interfaceIndex}");

    public void Dispose()
    {
    }

    private static IpAddress Address(string text)
    {
        byte[] octets = System.Net.IPAddress.Parse(text).GetAddressBytes();
        return octets.Length == 16 ? IpAddress.FromIpv6(octets) : IpAddress.FromIpv4(System.Buffers.Binary.BinaryPrimitives.ReadUInt32BigEndian(octets));
    }
}
