using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// IGMP (RFC 1112, 2236, 3376) and MLD (RFC 2710, 3810): who listens to which group, and who asks. What a snooping switch
/// needs to go on forwarding multicast.
/// </summary>
public sealed class GroupAnalyzer : IAnalyzer
{
    /// <summary>Most pairs of group and host kept.</summary>
    public const int MostMembers = 4096;

    private const int MostQueriers = 64;
    private readonly Dictionary<(IpAddress Group, IpAddress Host), Member> _members = [];
    private readonly Dictionary<IpAddress, Querier> _queriers = [];
    private IpAddress _lastQuerier;
    private Timestamp? _lastIpv4Query;
    private Timestamp _pauseFrom;
    private Duration _pause;
    private long _notListed;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // A query may have come while the capture did not listen: the pause is counted afresh.
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 } && _lastIpv4Query is not null)
        {
            _lastIpv4Query = linkEvent.Time;
        }
    }

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet)
    {
        if (packet.Kind == NetworkPacketKind.Igmp && IgmpMessage.TryParse(packet.Payload, out IgmpMessage igmp, out _))
        {
            if (igmp.Kind != GroupMessageKind.Query)
            {
                Take(in packet, igmp.Version, igmp.Records);
            }
            else if (igmp.IsGeneralQuery)
            {
                Asked(in packet, isIpv6: false, igmp.Version, igmp.QueryIntervalSeconds);
                Pause(packet.Time);
            }
        }
        else if (packet.Kind == NetworkPacketKind.Icmpv6 && MldMessage.TryParse(packet.Payload, out MldMessage mld, out _))
        {
            if (mld.Kind != GroupMessageKind.Query)
            {
                Take(in packet, mld.Version, mld.Records);
            }
            else if (mld.IsGeneralQuery)
            {
                Asked(in packet, isIpv6: true, mld.Version, mld.QueryIntervalSeconds);
            }
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What was seen.</summary>
    public GroupSnapshot Snapshot() => new(
        [.. _queriers.Select(pair => pair.Value.Describe(pair.Key))],
        [.. _members.Select(pair => pair.Value.Describe(pair.Key.Group, pair.Key.Host))],
        _notListed,
        _pause,
        _pauseFrom);

    private void Take(in NetworkPacket packet, int version, GroupRecords records)
    {
        foreach (GroupRecord record in records)
        {
            (IpAddress, IpAddress) key = (record.Group, packet.Source);
            if (!_members.TryGetValue(key, out Member? member))
            {
                if (!record.Listens)
                {
                    continue;
                }

                if (_members.Count >= MostMembers)
                {
                    _notListed++;
                    continue;
                }

                _members.Add(key, member = new Member { First = packet.Time });
            }

            if (record.Listens)
            {
                member.Reports++;
                member.Version = version;
                member.Last = packet.Time;
                member.Left = null;
            }
            else if (record.Leaves)
            {
                member.Left ??= packet.Time;
            }
        }
    }

    private void Asked(in NetworkPacket packet, bool isIpv6, int version, int intervalSeconds)
    {
        if (!_queriers.TryGetValue(packet.Source, out Querier? querier))
        {
            if (_queriers.Count >= MostQueriers)
            {
                return;
            }

            _queriers.Add(packet.Source, querier = new Querier { First = packet.Time, IsIpv6 = isIpv6 });
        }
        else if (_lastQuerier != packet.Source && _lastQuerier.IsIpv6 == isIpv6)
        {
            querier.AfterAnother++;
        }

        _lastQuerier = packet.Source;
        querier.Queries++;
        querier.Version = version;
        querier.IntervalSeconds = intervalSeconds;
        querier.Last = packet.Time;
    }

    private void Pause(Timestamp time)
    {
        if (_lastIpv4Query is Timestamp last && time - last > _pause)
        {
            _pause = time - last;
            _pauseFrom = last;
        }

        _lastIpv4Query = time;
    }

    private sealed class Member
    {
        public Timestamp First { get; init; }

        public Timestamp Last { get; set; }

        public Timestamp? Left { get; set; }

        public long Reports { get; set; }

        public int Version { get; set; }

        public MembershipSummary Describe(IpAddress group, IpAddress host) => new(
            group,
            SacnAddressing.TryGetUniverse(group, out ushort universe) ? universe : -1,
            host.ToString(),
            Version,
            Reports,
            First,
            Last,
            Left);
    }

    private sealed class Querier
    {
        public Timestamp First { get; init; }

        public bool IsIpv6 { get; init; }

        public Timestamp Last { get; set; }

        public long Queries { get; set; }

        public long AfterAnother { get; set; }

        public int Version { get; set; }

        public int IntervalSeconds { get; set; }

        public QuerierSummary Describe(IpAddress address) =>
            new(address.ToString(), IsIpv6, Version, Queries, First, Last, IntervalSeconds, AfterAnother);
    }
}
