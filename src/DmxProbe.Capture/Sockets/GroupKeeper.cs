using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Capture.Sockets;

/// <summary>Which sACN groups are joined, and through which interfaces; says so. Used by one thread.</summary>
internal sealed class GroupKeeper(IDatagramReceiver receiver, LiveSettings settings)
{
    /// <summary>Most universes joined: as many as hold state in the analysis.</summary>
    public const int Capacity = 4096;

    private readonly SortedSet<int> _universes = [SacnAddressing.DiscoveryUniverse, .. settings.Universes.Take(Capacity)];
    private readonly HashSet<(int Universe, bool IsIpv6, int Interface)> _joined = [];
    private readonly HashSet<string> _wirelessTold = [];

    /// <summary>Universes wanted beyond <see cref="Capacity"/>.</summary>
    public bool IsFull => _universes.Count > Capacity;

    /// <summary>Whether a universe's groups are joined, or would be on an interface that could.</summary>
    public bool Has(int universe) => _universes.Contains(universe);

    /// <summary>Wants further universes.</summary>
    /// <returns>Whether there was a new one.</returns>
    public bool Add(IEnumerable<int> universes)
    {
        int before = _universes.Count;
        foreach (int universe in universes)
        {
            if (_universes.Count <= Capacity)
            {
                _universes.Add(universe);
            }
        }

        return _universes.Count > before;
    }

    /// <summary>Joins what is wanted and not yet joined through these interfaces, and says so.</summary>
    public void Join(IEnumerable<InterfaceInfo> interfaces)
    {
        foreach (InterfaceInfo through in interfaces)
        {
            if (through.IsWireless && !settings.JoinOnWireless)
            {
                if (_wirelessTold.Add(through.Name))
                {
                    settings.Tell(new LiveNotice(
                        "not-joined-wireless",
                        true,
                        $"{through.Described} is wireless: no group is joined through it, because the access point would spend its air on "
                        + "them; broadcasts and what is sent to this computer are heard; --join-on-wireless joins all the same"));
                }

                continue;
            }

            Join(through);
        }
    }

    /// <summary>Forgets what was joined through an interface that is gone.</summary>
    public void Forget(int interfaceIndex)
    {
        foreach ((int Universe, bool IsIpv6, int Interface) joined in _joined.Where(each => each.Interface == interfaceIndex).ToList())
        {
            receiver.Leave(Group(joined.Universe, joined.IsIpv6), interfaceIndex);
            _joined.Remove(joined);
        }
    }

    private static IpAddress Group(int universe, bool isIpv6) =>
        isIpv6 ? SacnAddressing.Ipv6Group((ushort)universe) : SacnAddressing.Ipv4Group((ushort)universe);

    private static string Words(List<int> universes)
    {
        List<int> data = universes.FindAll(universe => universe != SacnAddressing.DiscoveryUniverse);
        string discovery = universes.Count > data.Count ? $"universe {SacnAddressing.DiscoveryUniverse} (discovery)" : "";
        string others = data.Count == 0 ? "" : (data.Count == 1 ? "universe " : "universes ") + UniverseRanges.Text(data);
        return discovery.Length > 0 && others.Length > 0 ? discovery + " and " + others : discovery + others;
    }

    private void Join(InterfaceInfo through)
    {
        List<int> newly = [];
        string families = "";
        string refusal = "";
        int refused = 0;
        foreach (bool isIpv6 in new[] { false, true })
        {
            if ((isIpv6 ? through.Ipv6 : through.Ipv4) is null)
            {
                continue;
            }

            int before = newly.Count;
            int joinedHere = 0;
            foreach (int universe in _universes)
            {
                if (_joined.Contains((universe, isIpv6, through.Index)))
                {
                    continue;
                }

                if (receiver.Join(Group(universe, isIpv6), through) is string why)
                {
                    refused++;
                    refusal = why;
                    continue;
                }

                joinedHere++;
                _joined.Add((universe, isIpv6, through.Index));
                if (!newly.Contains(universe))
                {
                    newly.Add(universe);
                }
            }

            if (joinedHere > 0)
            {
                families += (families.Length > 0 ? " and " : "") + (isIpv6 ? "IPv6" : "IPv4");
            }
        }

        if (newly.Count > 0)
        {
            settings.Tell(new LiveNotice(
                "joined",
                false,
                $"joined the sACN {(newly.Count == 1 ? "group" : "groups")} of {Words(newly)} on {through.Described}, {families}; "
                + "a switch that watches joins now sends them here"));
        }

        if (refused > 0)
        {
            settings.Tell(new LiveNotice(
                "join-refused", true, $"{refused} of the groups could not be joined on {through.Described}: {refusal}; what is sent to them is not heard"));
        }
    }
}
