using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Devices that sent ArtPollReply, by address. Bounded; devices beyond are counted.</summary>
public sealed class NodeTable
{
    /// <summary>Most devices kept.</summary>
    public const int Capacity = 4096;

    private const int MostPorts = 64;
    private static readonly Duration LongestDelay = Duration.FromMilliseconds(1500);
    private readonly Dictionary<IpAddress, Entry> _entries = [];
    private Timestamp _lastPoll = Timestamp.FromUnixNanoseconds(0);

    /// <summary>Replies of devices beyond those kept.</summary>
    public long RepliesNotListed { get; private set; }

    /// <summary>Notes an ArtPoll: replies follow within a second.</summary>
    internal void Polled(Timestamp time) => _lastPoll = time;

    /// <summary>Counts a reply.</summary>
    /// <param name="address">Where it came from.</param>
    /// <param name="octets">Its length.</param>
    /// <param name="statedPort">The UDP port it states.</param>
    /// <param name="time">When it came.</param>
    /// <param name="isNew">True for the first reply of this device.</param>
    /// <returns>The device's entry, or null when there is no room.</returns>
    internal Entry? Count(IpAddress address, int octets, int statedPort, Timestamp time, out bool isNew)
    {
        isNew = false;
        if (!_entries.TryGetValue(address, out Entry? entry))
        {
            if (_entries.Count >= Capacity)
            {
                RepliesNotListed++;
                return null;
            }

            entry = new Entry(octets, statedPort);
            _entries.Add(address, entry);
            isNew = true;
        }

        entry.Replies++;
        entry.Unasked += time - _lastPoll > LongestDelay ? 1 : 0;
        entry.ShortestReply = Math.Min(entry.ShortestReply, octets);
        return entry;
    }

    /// <summary>The devices in the order of their first reply.</summary>
    public IReadOnlyList<NodeSummary> Snapshot() =>
    [
        .. _entries.Select(pair => new NodeSummary
        {
            Address = pair.Key.ToString(),
            PortName = pair.Value.PortName,
            LongName = pair.Value.LongName,
            Replies = pair.Value.Replies,
            Unasked = pair.Value.Unasked,
            ShortestReply = pair.Value.ShortestReply,
            StatedPort = pair.Value.StatedPort,
            Outputs = [.. pair.Value.Outputs],
            InputsListed = [.. pair.Value.Inputs],
            Merging = pair.Value.Merging,
        }),
    ];

    /// <summary>One device.</summary>
    internal sealed class Entry(int shortestReply, int statedPort)
    {
        public string PortName { get; set; } = "";

        public string LongName { get; set; } = "";

        public long Replies { get; set; }

        public long Unasked { get; set; }

        public int ShortestReply { get; set; } = shortestReply;

        public int StatedPort { get; } = statedPort;

        public SortedSet<int> Outputs { get; } = [];

        public SortedSet<int> Inputs { get; } = [];

        public bool Merging { get; set; }

        public static void Add(SortedSet<int> ports, int portAddress)
        {
            if (ports.Count < MostPorts)
            {
                ports.Add(portAddress);
            }
        }
    }
}
