using System.Text;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// Who sent what, as an index that is turned into words only when shown. A sender is its CID for sACN (it may send over
/// IPv4 and IPv6 at once), address and Physical for Art-Net, the line or port itself elsewhere. Bounded: senders beyond <see cref="Capacity"/> get -1.
/// </summary>
public sealed class SenderTable
{
    /// <summary>Most senders that hold state; more are counted and said.</summary>
    public const int Capacity = 4096;

    private const int MostAddresses = 8;

    private readonly List<Entry> _entries = [];
    private readonly Dictionary<Cid, int> _byCid = [];
    private readonly Dictionary<(IpAddress Address, int Physical), int> _byAddress = [];
    private readonly Dictionary<UniverseId, int> _byPort = [];
    private readonly Dictionary<IpAddress, string> _artNetNames = [];

    /// <summary>Senders known.</summary>
    public int Count => _entries.Count;

    /// <summary>The index of an sACN source, made when it first appears; -1 when the table is full.</summary>
    public int FindSacn(Cid cid, IpAddress address)
    {
        if (_byCid.TryGetValue(cid, out int index))
        {
            return index;
        }

        index = Add(new Entry(UniverseProtocol.Sacn, address) { Cid = cid });
        if (index >= 0)
        {
            _byCid.Add(cid, index);
        }

        return index;
    }

    /// <summary>The index of an Art-Net sender, made when it first appears; -1 when the table is full.</summary>
    public int FindArtNet(IpAddress address, int physical)
    {
        if (_byAddress.TryGetValue((address, physical), out int index))
        {
            return index;
        }

        index = Add(new Entry(UniverseProtocol.ArtNet, address) { Physical = physical });
        if (index >= 0)
        {
            _byAddress.Add((address, physical), index);
        }

        return index;
    }

    /// <summary>The index of the first Art-Net sender of an address; -1 when it sent no levels.</summary>
    public int KnownArtNet(IpAddress address) => _byAddress.GetValueOrDefault((address, 0), -1);

    /// <summary>The index of whatever drives a line or a serial port, made when it first appears; -1 when the table is full.</summary>
    /// <param name="universe">The line or port.</param>
    /// <param name="name">What the port is called; untrusted text.</param>
    /// <param name="measuredAt">Where its frames are measured: <c>usb</c>, <c>uart</c> or <c>edges</c>.</param>
    public int FindLocal(UniverseId universe, string name, string measuredAt = "edges")
    {
        if (_byPort.TryGetValue(universe, out int index))
        {
            return index;
        }

        index = Add(new Entry(universe.Protocol, default) { Name = name, MeasuredAt = measuredAt });
        if (index >= 0)
        {
            _byPort.Add(universe, index);
        }

        return index;
    }

    /// <summary>Notes the name a source gives itself (UTF-8 as sent; damaged octets are replaced).</summary>
    public void Name(int sender, ReadOnlySpan<byte> utf8)
    {
        if (sender < 0 || utf8.Length == 0)
        {
            return;
        }

        Entry entry = _entries[sender];
        if (!utf8.SequenceEqual(entry.NameOctets))
        {
            entry.NameOctets = utf8.ToArray();
            entry.Name = Encoding.UTF8.GetString(utf8);
        }
    }

    /// <summary>Notes the name that an ArtPollReply gives for everything sent from an address.</summary>
    public void NameArtNet(IpAddress address, string name)
    {
        if (name.Length > 0 && (_artNetNames.Count < Capacity || _artNetNames.ContainsKey(address)))
        {
            _artNetNames[address] = name;
        }
    }

    /// <summary>Notes an address that a sender sent from.</summary>
    public void SentFrom(int sender, IpAddress address)
    {
        List<IpAddress> addresses = _entries[sender].Addresses;
        if (addresses.Count < MostAddresses && !addresses.Contains(address))
        {
            addresses.Add(address);
        }
    }

    /// <summary>A sender in words.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such sender.</exception>
    public SenderSummary Describe(int sender)
    {
        Entry entry = _entries[sender];
        string name = entry.Protocol == UniverseProtocol.ArtNet
            ? _artNetNames.GetValueOrDefault(entry.Addresses[0], "")
            : entry.Name;
        bool isOnNetwork = entry.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet;
        return new SenderSummary
        {
            Index = sender,
            Protocol = entry.Protocol,
            Name = name,
            Address = isOnNetwork ? entry.Addresses[0].ToString() : "",
            Addresses = isOnNetwork ? [.. entry.Addresses.Select(address => address.ToString())] : [],
            Cid = entry.Protocol == UniverseProtocol.Sacn ? entry.Cid.ToString() : "",
            Physical = entry.Physical,
            MeasuredAt = entry.MeasuredAt,
        };
    }

    private int Add(Entry entry)
    {
        if (_entries.Count >= Capacity)
        {
            return -1;
        }

        _entries.Add(entry);
        return _entries.Count - 1;
    }

    private sealed class Entry(UniverseProtocol protocol, IpAddress address)
    {
        public UniverseProtocol Protocol { get; } = protocol;

        public Cid Cid { get; init; }

        public int Physical { get; init; } = -1;

        public List<IpAddress> Addresses { get; } = [address];

        public string MeasuredAt { get; init; } = "network";

        public byte[] NameOctets { get; set; } = [];

        public string Name { get; set; } = "";
    }
}
