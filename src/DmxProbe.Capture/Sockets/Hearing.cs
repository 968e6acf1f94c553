using System.Buffers.Binary;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Capture.Sockets;

/// <summary>What kinds of lighting packets came so far, told from the first octets; bounded. Used by one thread.</summary>
internal sealed class Hearing
{
    private const int MostSenders = 64;
    private const int AcnIdentifierAt = 4;
    private const int RootVectorAt = 18;
    private static readonly byte[] AcnIdentifier = [.. "ASC-E1.17\0\0\0"u8];

    /// <summary>Lighting packets of any kind.</summary>
    public long Lighting { get; private set; }

    /// <summary>Packets that carry levels.</summary>
    public long Levels { get; private set; }

    /// <summary>ArtPoll packets.</summary>
    public long Polls { get; private set; }

    /// <summary>When the first ArtPoll came.</summary>
    public Timestamp FirstPoll { get; private set; } = Timestamp.MaxValue;

    /// <summary>Who sent lighting packets over IPv4; at most 64.</summary>
    public HashSet<IpAddress> Senders { get; } = [];

    /// <summary>Who sent ArtPoll; at most 64.</summary>
    public HashSet<IpAddress> Pollers { get; } = [];

    /// <summary>Universes that sources list in discovery packets; at most as many as can be joined.</summary>
    public SortedSet<int> Listed { get; } = [];

    /// <summary>Called with who polls.</summary>
    public Action<IpAddress, Timestamp>? Polled { get; set; }

    /// <summary>Takes a record.</summary>
    public void Hear(in CaptureRecord record)
    {
        if (record.Kind != RecordKind.Packet || !NetworkDatagram.TryParse(record.LinkType, record.Data, out NetworkDatagram datagram, out _))
        {
            return;
        }

        ReadOnlySpan<byte> payload = datagram.Payload;
        if (ArtNetHeader.TryParse(payload, out ArtNetHeader artNet, out _))
        {
            Heard(in datagram);
            if (artNet.OpCode is ArtOpCode.Dmx or ArtOpCode.Nzs)
            {
                Levels++;
            }
            else if (artNet.OpCode == ArtOpCode.Poll)
            {
                Poll(datagram.Source, record.Time);
            }
        }
        else if (payload.Length >= RootVectorAt + sizeof(uint) && payload[AcnIdentifierAt..].StartsWith(AcnIdentifier))
        {
            Heard(in datagram);
            uint vector = BinaryPrimitives.ReadUInt32BigEndian(payload[RootVectorAt..]);
            if (vector == SacnVector.RootExtended && SacnDiscoveryPacket.TryParse(payload, out SacnDiscoveryPacket list, out _))
            {
                foreach (ushort universe in list)
                {
                    if (SacnAddressing.IsDataUniverse(universe) && Listed.Count < GroupKeeper.Capacity)
                    {
                        Listed.Add(universe);
                    }
                }
            }
            else if (vector != SacnVector.RootExtended)
            {
                Levels++;
            }
        }
    }

    private void Heard(in NetworkDatagram datagram)
    {
        Lighting++;
        if (Senders.Count < MostSenders && !datagram.IsIpv6)
        {
            Senders.Add(datagram.Source);
        }
    }

    private void Poll(IpAddress source, Timestamp time)
    {
        Polls++;
        FirstPoll = Polls == 1 ? time : FirstPoll;
        if (Pollers.Count < MostSenders)
        {
            Pollers.Add(source);
        }

        Polled?.Invoke(source, time);
    }
}
