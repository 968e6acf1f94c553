using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Arbitration;

/// <summary>Traffic written down by hand: what each sender sends at which second. Sequence numbers are counted by the script.</summary>
public sealed class TrafficScript
{
    private readonly List<(double Seconds, int Order, byte[] Frame)> _sent = [];
    private readonly Dictionary<(string Cid, int Universe), List<(double Seconds, int Order, Func<int, byte[]> Frame)>> _counted = [];
    private int _order;

    /// <summary>Second 0: 2026-03-14 19:44:00 UTC.</summary>
    public static Timestamp Start { get; } = Timestamp.FromUnixNanoseconds(1_773_517_440_000_000_000);

    /// <summary>The moment of a second of the script.</summary>
    public static Timestamp At(double seconds) => Start + Duration.FromSeconds(seconds);

    /// <summary>An sACN data packet, by multicast.</summary>
    public TrafficScript Sacn(
        double seconds,
        ScriptSource source,
        int universe,
        byte[] slots,
        int priority = 100,
        int sync = 0,
        int options = 0,
        int startCode = 0)
    {
        (string, int) key = (source.Cid, universe);
        if (!_counted.TryGetValue(key, out var packets))
        {
            _counted.Add(key, packets = []);
        }

        packets.Add((seconds, _order++, sequence => UdpFrames.Build(
            UdpPath.ToSacnGroup(source.Host, universe),
            SacnPackets.Data(SacnPackets.Cid(source.Cid), source.Host.Name, universe, sequence, slots, priority, sync, options, startCode))));
        return this;
    }

    /// <summary>An sACN synchronization packet.</summary>
    public TrafficScript SacnSync(double seconds, ScriptSource source, int address) => Raw(
        seconds, UdpFrames.Build(UdpPath.ToSacnGroup(source.Host, address), SacnPackets.Sync(SacnPackets.Cid(source.Cid), address, _order & 0xFF)));

    /// <summary>ArtDmx from one host to another.</summary>
    public TrafficScript ArtDmx(double seconds, Host from, Host to, int portAddress, byte[] slots, int physical = 0) =>
        ArtNet(seconds, from, to, ArtNetPackets.Dmx(portAddress, 0, slots, physical));

    /// <summary>Any Art-Net packet from one host to another.</summary>
    public TrafficScript ArtNet(double seconds, Host from, Host to, byte[] payload) =>
        Raw(seconds, UdpFrames.Build(UdpPath.Unicast(from, to, ArtNetPackets.Port), payload));

    /// <summary>An Ethernet frame as it is.</summary>
    public TrafficScript Raw(double seconds, byte[] frame)
    {
        _sent.Add((seconds, _order++, frame));
        return this;
    }

    /// <summary>Does the same again and again.</summary>
    /// <param name="from">First second.</param>
    /// <param name="to">Last second, included.</param>
    /// <param name="step">Seconds between.</param>
    /// <param name="each">What is done at a second.</param>
    public TrafficScript Every(double from, double to, double step, Action<TrafficScript, double> each)
    {
        for (int i = 0; from + (i * step) <= to + 1e-9; i++)
        {
            each(this, Math.Round(from + (i * step), 6));
        }

        return this;
    }

    /// <summary>All frames by time.</summary>
    public IReadOnlyList<(Timestamp Time, byte[] Frame)> Frames()
    {
        List<(double Seconds, int Order, byte[] Frame)> all = [.. _sent];
        foreach (var packets in _counted.Values)
        {
            int sequence = 0;
            foreach ((double seconds, int order, Func<int, byte[]> frame) in packets.OrderBy(packet => packet.Seconds).ThenBy(packet => packet.Order))
            {
                all.Add((seconds, order, frame(sequence++ & 0xFF)));
            }
        }

        return [.. all.OrderBy(packet => packet.Seconds).ThenBy(packet => packet.Order).Select(packet => (At(packet.Seconds), packet.Frame))];
    }

    /// <summary>The traffic as a pcapng file with nanoseconds; the same bytes every time.</summary>
    public byte[] Pcapng()
    {
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, "DmxProbe test script", leaveOpen: true))
        {
            int mirror = writer.AddInterface("mirror", "written by hand, no recording", LinkType.Ethernet);
            foreach ((Timestamp time, byte[] frame) in Frames())
            {
                writer.WritePacket(mirror, time, frame, frame.Length);
            }
        }

        return stream.ToArray();
    }
}
