using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>The paths of each stream. The usual packet takes the path of the one before: one comparison.</summary>
public sealed class PathTable
{
    /// <summary>Most paths kept per stream.</summary>
    public const int MostPaths = 16;

    private const int MacOctets = 6;
    private const int SllTypeAt = 1;
    private const int Sll2TypeAt = 10;
    private const byte SllBroadcast = 1;

    private readonly PerIndex<Entry> _entries = new();

    /// <summary>The paths of a stream in order of appearance; those of sACN multicast to the universe's own group are left out.</summary>
    public IReadOnlyList<SendingPath> Of(int stream) =>
        stream < _entries.Count && _entries[stream].Paths is List<SendingPath> paths ? [.. paths] : [];

    /// <summary>Notes the path of a packet.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="datagram">The packet.</param>
    /// <param name="record">Its record: an Ethernet header tells a broadcast that the IP address does not.</param>
    /// <param name="port">The protocol's UDP port.</param>
    /// <param name="bothPorts">Whether packets shall come from that port too.</param>
    /// <returns>What its frame is flagged with: unicast, broadcast, another port.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal FrameFlags Note(
        int stream, in NetworkDatagram datagram, in CaptureRecord record, ushort port, bool bothPorts)
    {
        ref Entry entry = ref _entries[stream];
        ulong key = unchecked((datagram.Destination.Low << 32) ^ ((ulong)datagram.SourcePort << 16) ^ datagram.DestinationPort);
        if (entry.Key != key || entry.Paths is null)
        {
            entry.Key = key;
            entry.Flags = Learn(ref entry, in datagram, in record, port, bothPorts);
        }

        return entry.Flags;
    }

    private static FrameFlags Learn(
        ref Entry entry, in NetworkDatagram datagram, in CaptureRecord record, ushort port, bool bothPorts)
    {
        IpAddress destination = datagram.Destination;
        SendingPath path = new(
            destination, datagram.SourcePort, datagram.DestinationPort, IsBroadcast(destination, in record));
        entry.Paths ??= [];
        if (entry.Paths.Count < MostPaths && !entry.Paths.Contains(path))
        {
            entry.Paths.Add(path);
        }

        FrameFlags flags = path.IsBroadcast ? FrameFlags.Broadcast : path.IsUnicast ? FrameFlags.Unicast : FrameFlags.None;
        bool isOther = datagram.DestinationPort != port || (bothPorts && datagram.SourcePort != port);
        return isOther ? flags | FrameFlags.OtherPort : flags;
    }

    // A directed broadcast shows in the link header, and where that is missing or made up by an address that ends in 255.
    internal static bool IsBroadcast(IpAddress destination, in CaptureRecord record)
    {
        if (destination.IsIpv6 || destination.IsMulticast)
        {
            return false;
        }

        ReadOnlySpan<byte> data = record.Data;
        bool byLink = record.LinkType switch
        {
            LinkType.Ethernet => data.Length >= MacOctets && MacAddress.Read(data).IsBroadcast,
            LinkType.LinuxSll => data.Length > SllTypeAt && data[0] == 0 && data[SllTypeAt] == SllBroadcast,
            LinkType.LinuxSll2 => data.Length > Sll2TypeAt && data[Sll2TypeAt] == SllBroadcast,
            _ => false,
        };
        return byLink || (destination.Low & byte.MaxValue) == byte.MaxValue;
    }

    private struct Entry
    {
        public ulong Key;
        public FrameFlags Flags;
        public List<SendingPath>? Paths;
    }
}
