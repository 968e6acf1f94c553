using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
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
    private readonly Dictionary<IpAddress, Poller> _pollers = [];
    private Timestamp _lastPoll = Timestamp.FromUnixNanoseconds(0);
    private long _polls;

    /// <summary>Replies of devices beyond those kept.</summary>
    public long RepliesNotListed { get; private set; }

    /// <summary>Notes an ArtPoll: replies follow within a second.</summary>
    internal void Polled(IpAddress source, Timestamp time)
    {
        _lastPoll = time;
        _polls++;
        if (!_pollers.TryGetValue(source, out Poller? poller))
        {
            if (_pollers.Count >= Capacity)
            {
                return;
            }

            _pollers.Add(source, poller = new Poller());
        }

        poller.Polls++;
        if (poller.Last is Timestamp last)
        {
            poller.Intervals.Add(time - last);
        }

        poller.First ??= time;
        poller.Last = time;
    }

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
        entry.First ??= time;
        entry.Last = time;
        entry.PollsBefore = _polls;
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
            First = pair.Value.First ?? default,
            Last = pair.Value.Last,
            PollsSince = Math.Max(0, _polls - pair.Value.PollsBefore),
            LastPoll = _lastPoll,
            SharedBy = pair.Value.Shared,
            SharedFrom = pair.Value.SharedFrom,
            OutputsSacn = pair.Value.OutputsSacn,
            PortsLeftOut = pair.Value.Outputs.Count >= MostPorts,
        }),
    ];

    /// <summary>Who polls, and how often, in the order of their first poll.</summary>
    public IReadOnlyList<PollerSummary> Pollers() =>
    [
        .. _pollers.Select(pair => new PollerSummary(
            pair.Key.ToString(), pair.Value.Polls, pair.Value.First ?? default, pair.Value.Last ?? default, pair.Value.Intervals.Snapshot())),
    ];

    private sealed class Poller
    {
        public long Polls { get; set; }

        public Timestamp? First { get; set; }

        public Timestamp? Last { get; set; }

        public IntervalHistogram Intervals { get; } = new();
    }

    /// <summary>One device.</summary>
    internal sealed class Entry(int shortestReply, int statedPort)
    {
        private static readonly Duration SameMoment = Duration.FromSeconds(60);
        private readonly Dictionary<int, (MacAddress Mac, Timestamp Last)> _macs = [];

        public Timestamp? First { get; set; }

        public Timestamp Last { get; set; }

        public long PollsBefore { get; set; }

        /// <summary>Two adapters that both replied from this address within a minute; empty when there is one.</summary>
        public IReadOnlyList<string> Shared { get; private set; } = [];

        public Timestamp SharedFrom { get; private set; }

        /// <summary>Notes the adapter that a reply names, for each part of the device.</summary>
        public void SawMac(int bindIndex, MacAddress mac, Timestamp time)
        {
            if (mac.Value == 0)
            {
                return;
            }

            if (_macs.TryGetValue(bindIndex, out (MacAddress Mac, Timestamp Last) known)
                && known.Mac != mac
                && time - known.Last <= SameMoment
                && Shared.Count == 0)
            {
                Shared = [known.Mac.ToString(), mac.ToString()];
                SharedFrom = time;
            }

            _macs[bindIndex] = (mac, time);
        }

        public string PortName { get; set; } = "";

        public string LongName { get; set; } = "";

        public long Replies { get; set; }

        public long Unasked { get; set; }

        public int ShortestReply { get; set; } = shortestReply;

        public int StatedPort { get; } = statedPort;

        public SortedSet<int> Outputs { get; } = [];

        public SortedSet<int> Inputs { get; } = [];

        public bool Merging { get; set; }

        public bool OutputsSacn { get; set; }

        public static void Add(SortedSet<int> ports, int portAddress)
        {
            if (ports.Count < MostPorts)
            {
                ports.Add(portAddress);
            }
        }
    }
}
