using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Follows the fragments of lighting datagrams by sender, receiver and identification (RFC 791, RFC 8200): were all parts
/// there? Only the first part has ports, so parts that come before it are not known to be lighting and not counted.
/// </summary>
public sealed class FragmentAnalyzer : IAnalyzer
{
    private const int MostOpen = 256;
    private static readonly Duration LongestOpen = Duration.FromSeconds(30); // RFC 791: 15 s; common systems: 30 s
    private readonly Dictionary<(IpAddress Source, IpAddress Destination, uint Id), Open> _open = [];
    private long _datagrams;
    private long _whole;
    private IpAddress _source;
    private Timestamp _first;
    private Timestamp _last;
    private long _firstRecord;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet)
    {
        if (packet.Kind != NetworkPacketKind.Fragment)
        {
            return;
        }

        (IpAddress, IpAddress, uint) key = (packet.Source, packet.Destination, packet.Identification);
        if (packet.FragmentOffset == 0)
        {
            if (packet.IsLighting)
            {
                Begin(key, in packet);
            }
        }
        else if (_open.TryGetValue(key, out Open open) && packet.Time - open.Began <= LongestOpen)
        {
            open.Octets += packet.StatedLength;
            open.Total = packet.MoreFragments ? open.Total : packet.FragmentOffset + packet.StatedLength;
            if (open.Octets == open.Total)
            {
                _whole++;
                _open.Remove(key);
            }
            else
            {
                _open[key] = open;
            }
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What was seen.</summary>
    public FragmentSnapshot Snapshot() => _datagrams == 0
        ? FragmentSnapshot.None
        : new FragmentSnapshot(_datagrams, _whole, _source.ToString(), _first, _last, _firstRecord);

    private void Begin((IpAddress Source, IpAddress Destination, uint Id) key, in NetworkPacket packet)
    {
        if (_datagrams++ == 0)
        {
            _source = packet.Source;
            _first = packet.Time;
            _firstRecord = packet.Record;
        }

        _last = packet.Time;
        if (_open.Count >= MostOpen)
        {
            _open.Clear(); // what is still open after so many others has been lost
        }

        _open[key] = new Open { Began = packet.Time, Octets = packet.StatedLength, Total = -1 };
    }

    private struct Open
    {
        public Timestamp Began;
        public long Octets;
        public long Total;
    }
}
