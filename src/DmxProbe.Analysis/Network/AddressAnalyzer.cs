using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Which adapter claims which IPv4 address, by ARP (RFC 826). Two adapters on one address within a minute are a conflict
/// (common practice, no source); later ones may be an address given to another device. Probes claim nothing (RFC 5227).
/// </summary>
public sealed class AddressAnalyzer : IAnalyzer
{
    /// <summary>Most addresses kept; an address per VLAN and interface of the capture.</summary>
    public const int MostAddresses = 4096;

    private const int MostMacs = 4;
    private static readonly Duration SameMoment = Duration.FromSeconds(60);
    private readonly Dictionary<(uint Address, int Vlan, int Interface), Claim> _claims = [];

    /// <summary>ARP packets seen.</summary>
    public long Packets { get; private set; }

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
        if (packet.Kind != NetworkPacketKind.Arp || !ArpPacket.TryParse(packet.Payload, out ArpPacket arp, out _))
        {
            return;
        }

        Packets++;
        MacAddress mac = arp.SenderMac;
        if (arp.IsProbe || mac.Value == 0 || mac.IsGroup)
        {
            return;
        }

        (uint, int, int) key = (unchecked((uint)arp.SenderIp.Low), packet.VlanId, packet.InterfaceId);
        if (!_claims.TryGetValue(key, out Claim? claim))
        {
            if (_claims.Count < MostAddresses)
            {
                _claims.Add(key, new Claim(mac, packet.Time));
            }

            return;
        }

        claim.Take(mac, packet.Time, packet.Record);
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The addresses that two adapters claimed, in the order of their first appearance.</summary>
    public IReadOnlyList<AddressConflict> Snapshot()
    {
        var shared = _claims.Where(pair => pair.Value.Changes > 0).ToArray();
        return
        [
            .. shared.Select(pair => new AddressConflict(
                IpAddress.FromIpv4(pair.Key.Address).ToString(),
                [.. pair.Value.Macs.Select(mac => mac.ToString())],
                pair.Value.Changes,
                pair.Value.IsBackAndForth,
                shared.Any(other => other.Key != pair.Key && other.Value.Macs.ToHashSet().SetEquals(pair.Value.Macs)),
                pair.Value.First,
                pair.Value.LastChange,
                pair.Value.FirstRecord)),
        ];
    }

    private sealed class Claim(MacAddress mac, Timestamp time)
    {
        private MacAddress _holder = mac;
        private Timestamp _last = time;

        public List<MacAddress> Macs { get; } = [mac];

        public long Changes { get; private set; }

        public bool IsBackAndForth { get; private set; }

        public Timestamp First { get; private set; }

        public Timestamp LastChange { get; private set; }

        public long FirstRecord { get; private set; }

        public void Take(MacAddress mac, Timestamp time, long record)
        {
            if (mac != _holder && time - _last <= SameMoment)
            {
                IsBackAndForth |= Macs.Contains(mac);
                if (Macs.Count < MostMacs && !Macs.Contains(mac))
                {
                    Macs.Add(mac);
                }

                if (Changes++ == 0)
                {
                    First = time;
                    FirstRecord = record;
                }

                LastChange = time;
            }
            else if (mac != _holder && Changes == 0)
            {
                // The address was given to another device in between.
                Macs.Clear();
                Macs.Add(mac);
            }

            _holder = mac;
            _last = time;
        }
    }
}
