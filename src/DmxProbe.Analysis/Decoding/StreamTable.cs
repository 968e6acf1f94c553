using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// The pairs (universe, sender) met, numbered from 0 without holes: analyzers keep their state in arrays by that index.
/// Bounded: what does not fit gets -1 and is counted.
/// </summary>
public sealed class StreamTable(SenderTable senders)
{
    /// <summary>Most universes that hold state; more are counted and said.</summary>
    public const int UniverseCapacity = 4096;

    /// <summary>Most pairs that hold state; more are counted and said.</summary>
    public const int Capacity = 8192;

    private const int SacnUniverses = 65536;
    private const int PortAddresses = 32768;
    private const int QuickLooks = 4;

    private readonly List<UniverseId> _universes = [];
    private readonly PerIndex<Entry> _entries = new();
    private readonly Dictionary<(int Universe, int Sender), int> _byPair = [];

    // Universe index + 1 by number; 0 = not met.
    private readonly ushort[] _sacn = new ushort[SacnUniverses];
    private readonly ushort[] _artNet = new ushort[PortAddresses];

    private readonly Dictionary<UniverseId, ushort> _local = [];

    // First stream + 1 of each universe, then linked by Entry.Next: nearly always one or two.
    private readonly PerIndex<int> _first = new();

    /// <summary>Universes met.</summary>
    public int UniverseCount => _universes.Count;

    /// <summary>Pairs met.</summary>
    public int Count => _entries.Count;

    /// <summary>Frames of universes beyond those that hold state.</summary>
    public long FramesOfUniversesNotListed { get; private set; }

    /// <summary>Frames of senders beyond those that hold state.</summary>
    public long FramesOfSendersNotListed { get; private set; }

    /// <summary>The universe with an index.</summary>
    public UniverseId Universe(int index) => _universes[index];

    /// <summary>The universe index of a stream.</summary>
    public int UniverseIndexOf(int stream) => _entries[stream].Universe;

    /// <summary>The sender of a stream.</summary>
    public int SenderOf(int stream) => _entries[stream].Sender;

    /// <summary>Second instances (IPv4 and IPv6 at once) left out of a stream.</summary>
    public long SecondInstancesOf(int stream) => _entries[stream].SecondInstances;

    /// <summary>The stream of an sACN source on a universe, made when it first appears; -1 when there is no room.</summary>
    public int FindSacn(ushort universe, Cid cid, IpAddress address, out bool isNew)
    {
        isNew = false;
        int known = _sacn[universe];
        if (known != 0)
        {
            int next = _first[known - 1];
            for (int look = 0; next != 0 && look < QuickLooks; look++)
            {
                ref Entry entry = ref _entries[next - 1];
                if (entry.Cid == cid)
                {
                    if (entry.Address != address)
                    {
                        entry.Address = address;
                        senders.SentFrom(entry.Sender, address);
                    }

                    return next - 1;
                }

                next = entry.Next;
            }
        }

        int sender = senders.FindSacn(cid, address);
        if (sender >= 0)
        {
            senders.SentFrom(sender, address);
        }

        int stream = Find(new UniverseId(UniverseProtocol.Sacn, universe), ref _sacn[universe], sender, out isNew);
        if (isNew)
        {
            _entries[stream].Cid = cid;
            _entries[stream].Address = address;
        }

        return stream;
    }

    /// <summary>The stream of an Art-Net sender on a Port-Address, made when it first appears; -1 when there is no room.</summary>
    /// <param name="portAddress">Port-Address, 0 to 32767.</param>
    /// <param name="address">Where it came from.</param>
    /// <param name="physical">Physical, or -1 where the packet has none: the first stream of the address is meant.</param>
    /// <param name="isNew">True when the stream was made.</param>
    public int FindArtNet(int portAddress, IpAddress address, int physical, out bool isNew)
    {
        isNew = false;
        int known = _artNet[portAddress];
        if (known != 0)
        {
            int next = _first[known - 1];
            for (int look = 0; next != 0 && look < QuickLooks; look++)
            {
                ref Entry entry = ref _entries[next - 1];
                if (entry.Address == address && (physical < 0 || entry.Physical == physical))
                {
                    return next - 1;
                }

                next = entry.Next;
            }
        }

        int sender = senders.FindArtNet(address, Math.Max(physical, 0));
        int stream = Find(new UniverseId(UniverseProtocol.ArtNet, portAddress), ref _artNet[portAddress], sender, out isNew);
        if (isNew)
        {
            _entries[stream].Address = address;
            _entries[stream].Physical = (byte)Math.Max(physical, 0);
        }

        return stream;
    }

    /// <summary>The stream of a line or a serial port, made when it first appears; -1 when there is no room.</summary>
    /// <param name="universe">The line or port, numbered from 0.</param>
    /// <param name="name">What the port is called; untrusted text.</param>
    /// <param name="measuredAt">Where its frames are measured: <c>usb</c>, <c>uart</c> or <c>edges</c>.</param>
    public int FindLocal(UniverseId universe, string name, string measuredAt = "edges")
    {
        if (!_local.TryGetValue(universe, out ushort known))
        {
            int stream = Find(universe, ref known, senders.FindLocal(universe, name, measuredAt), out _);
            if (known != 0)
            {
                _local[universe] = known;
            }

            return stream;
        }

        return _first[known - 1] - 1;
    }

    /// <summary>
    /// True when a packet is the second instance of one that the same source already sent over the other IP version: such
    /// sources send identical packets on both and a receiver acts on one (E1.31-2018 section 9.1). A packet that is new in
    /// its own IP version, but not new for the source, is the second instance; a true repeat is old in its own version too.
    /// </summary>
    public bool IsSecondInstance(int stream, bool isIpv6, byte sequence)
    {
        ref Entry entry = ref _entries[stream];
        IpVersions version = isIpv6 ? IpVersions.Ipv6 : IpVersions.Ipv4;
        if (entry.Versions == version)
        {
            // The usual case: one IP version only, so nothing can come twice.
            entry.Last = sequence;
            (isIpv6 ? ref entry.LastIpv6 : ref entry.LastIpv4) = sequence;
            return false;
        }

        bool isSecond = false;
        if ((entry.Versions | version) == IpVersions.Both)
        {
            bool isNewHere = (entry.Versions & version) == 0
                || Step(isIpv6 ? entry.LastIpv6 : entry.LastIpv4, sequence) > 0;
            isSecond = isNewHere && Step(entry.Last, sequence) is <= 0 and > -20;
        }

        entry.Versions |= version;
        if (isIpv6)
        {
            entry.LastIpv6 = sequence;
        }
        else
        {
            entry.LastIpv4 = sequence;
        }

        if (isSecond)
        {
            entry.SecondInstances++;
        }
        else
        {
            entry.Last = sequence;
        }

        return isSecond;
    }

    /// <summary>Whether all packets of a stream came over IPv4, so that none can be a second instance.</summary>
    internal bool IsOnlyIpv4(int stream) => _entries[stream].Versions == IpVersions.Ipv4;

    /// <summary>Notes the number of the last of several packets that came over IPv4 and were no second instances.</summary>
    internal void Counted(int stream, byte sequence)
    {
        ref Entry entry = ref _entries[stream];
        entry.Last = sequence;
        entry.LastIpv4 = sequence;
    }

    private static int Step(byte previous, byte next) => unchecked((sbyte)(byte)(next - previous));

    private int Find(UniverseId id, ref ushort known, int sender, out bool isNew)
    {
        isNew = false;
        if (known == 0)
        {
            if (_universes.Count >= UniverseCapacity)
            {
                FramesOfUniversesNotListed++;
                return -1;
            }

            if (sender < 0)
            {
                FramesOfSendersNotListed++;
                return -1;
            }

            _universes.Add(id);
            known = (ushort)_universes.Count;
        }

        int universe = known - 1;
        if (_byPair.TryGetValue((universe, sender), out int stream))
        {
            return stream;
        }

        if (sender < 0 || _entries.Count >= Capacity)
        {
            FramesOfSendersNotListed++;
            return -1;
        }

        stream = _entries.Count;
        ref Entry entry = ref _entries[stream];
        entry.Universe = universe;
        entry.Sender = sender;
        entry.Next = _first[universe];
        _first[universe] = stream + 1;
        _byPair.Add((universe, sender), stream);
        isNew = true;
        return stream;
    }

    [Flags]
    private enum IpVersions : byte
    {
        None = 0,
        Ipv4 = 1,
        Ipv6 = 2,
        Both = 3,
    }

    private struct Entry
    {
        public Cid Cid;
        public IpAddress Address;
        public int Universe;
        public int Sender;
        public int Next;
        public byte Physical;
        public IpVersions Versions;
        public byte Last;
        public byte LastIpv4;
        public byte LastIpv6;
        public long SecondInstances;
    }
}
