using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// A live source of the network with somebody who minds what is not heard: nothing at all, polls without levels, senders of
/// another subnet, universes that are only listed, more traffic than a link should carry. Owns its source.
/// </summary>
/// <param name="inner">The source.</param>
/// <param name="settings">Takes the notices.</param>
/// <param name="listening">The interfaces listened on, and all others.</param>
/// <param name="net">The sockets, where they are what is listened with.</param>
internal sealed class HearingSource(
    ILiveSource inner, LiveSettings settings, Func<(IReadOnlyCollection<InterfaceInfo> On, IReadOnlyList<InterfaceInfo> All)> listening, NetSource? net) : ILiveSource
{
    private const int MostNamed = 4;
    private static readonly Duration Patience = Duration.FromSeconds(5);
    private static readonly Duration JudgeEvery = Duration.FromSeconds(1);

    private readonly Hearing _hearing = new();
    private readonly Dictionary<int, long> _octets = [];
    private readonly HashSet<string> _told = [];
    private Timestamp _start = Timestamp.MaxValue;
    private Timestamp _judged;
    private int _offered;

    /// <inheritdoc/>
    public string Name => inner.Name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => inner.Interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => inner.Problem;

    /// <summary>Who is to answer ArtPoll; null for nobody.</summary>
    public Announcer? Announcer { get; init; }

    /// <inheritdoc/>
    public void Stop() => inner.Stop();

    /// <inheritdoc/>
    public void Dispose() => inner.Dispose();

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        ReadStatus status = inner.Read(out record);
        if (status == ReadStatus.End)
        {
            return status;
        }

        if (_start == Timestamp.MaxValue)
        {
            _start = record.Time;
            _judged = record.Time;
            _hearing.Polled = Announcer is null ? null : Announcer.Polled;
        }

        if (status == ReadStatus.Record)
        {
            System.Runtime.InteropServices.CollectionsMarshal.GetValueRefOrAddDefault(_octets, record.InterfaceId, out _) += record.OriginalLength;
            _hearing.Hear(in record);
        }

        if (record.Time - _judged >= JudgeEvery)
        {
            Judge(record.Time);
        }

        return status;
    }

    private void Judge(Timestamp now)
    {
        (IReadOnlyCollection<InterfaceInfo> on, IReadOnlyList<InterfaceInfo> all) = listening();
        JudgeLoad(on, (now - _judged).TotalSeconds);
        _judged = now;
        if (_hearing.Listed.Count != _offered)
        {
            JoinOrOffer();
        }

        if (now - _start < Patience)
        {
            return;
        }

        if (_hearing.Lighting == 0)
        {
            Once("nothing-heard", NothingHeard(on, all));
        }

        if (_hearing.Polls > 0 && _hearing.Levels == 0 && now - _hearing.FirstPoll >= Patience)
        {
            Once("polls-without-levels", PollsOnly());
        }

        if (_hearing.Senders.Count > 0 && on.Any(each => each.Ipv4 is not null && !each.IsLoopback))
        {
            IpAddress[] foreign = [.. _hearing.Senders.Where(sender => Subnet.Of(on, sender) is null && Subnet.Of(all, sender) is null)];
            if (foreign.Length > 0)
            {
                Once(
                    "masks-do-not-match",
                    $"{Some(foreign)} {(foreign.Length == 1 ? "sends" : "send")} here from outside every subnet of this computer ({string.Join(", ", on.Select(each => each.Described))}): "
                    + "addresses or masks do not match, so what they send to single addresses does not reach it; set the same network part and mask on both");
            }
        }
    }

    private string NothingHeard(IReadOnlyCollection<InterfaceInfo> on, IReadOnlyList<InterfaceInfo> all)
    {
        string where = on.Count == 0 ? "any interface with a link" : string.Join(" and ", on.Select(each => each.Described));
        string[] others = [.. all.Where(each => !each.IsLoopback && on.All(heard => heard.Name != each.Name)).Select(each => each.Described + (each.IsUp ? "" : " without a link"))];
        string text = $"nothing heard for 5 s on {where}: no Art-Net and no sACN, no ArtPoll either; "
            + (others.Length > 0 ? $"other interfaces: {string.Join(", ", others)}; " : "there is no other interface; ");
        return text + (net is null
            ? "check that this is the lighting network; a switch passes on only what is wanted here, so use a mirror port"
            : "check the cable and the network, that a firewall on this computer lets UDP 6454 and 5568 in, and name universes with --join: "
                + "of sACN only the joined groups come, and levels sent to single addresses only at a mirror port with nic:NAME");
    }

    private string PollsOnly()
    {
        string text = $"{Some([.. _hearing.Pollers])} asks who is there (ArtPoll) but sends no levels here: Art-Net levels go to the devices that answered, not to everybody; ";
        return text + (net is null
            ? "mirror the port of the controller or of a device to this one"
            : "listen with nic:NAME at a mirror port, or see --announce (without an audience only)");
    }

    private void JoinOrOffer()
    {
        _offered = _hearing.Listed.Count;
        if (net is null)
        {
            return;
        }

        int[] missing = [.. _hearing.Listed.Where(universe => !net.Groups.Has(universe))];
        if (missing.Length == 0)
        {
            return;
        }

        if (settings.JoinHeard)
        {
            net.Join(missing);
            return;
        }

        settings.Tell(new LiveNotice(
            "listed-not-joined",
            false,
            $"sources list sACN {(missing.Length == 1 ? "universe" : "universes")} {UniverseRanges.Text(missing)}, not joined here; --join heard joins what is listed"));
    }

    private void JudgeLoad(IReadOnlyCollection<InterfaceInfo> on, double seconds)
    {
        foreach ((int id, long octets) in _octets)
        {
            string name = inner.Interfaces[id].Name;
            double bits = octets * 8 / seconds;
            if (net is not null && on.FirstOrDefault(each => each.Name == name) is { LinkBitsPerSecond: long link } && bits > link / 2.0)
            {
                Once(
                    "link-half-full",
                    FormattableString.Invariant($"the traffic here takes {bits / 1e6:0} Mbit/s of the {link / 1e6:0} Mbit/s of {name}: more than half; join fewer universes, or the joins crowd out other traffic"),
                    name);
            }

            _octets[id] = 0;
        }
    }

    private static string Some(IpAddress[] addresses) => addresses.Length <= MostNamed
        ? string.Join(", ", addresses)
        : string.Join(", ", addresses.Take(MostNamed)) + FormattableString.Invariant($" and {addresses.Length - MostNamed} more");

    private void Once(string id, string text, string about = "")
    {
        if (_told.Add(id + " " + about))
        {
            settings.Tell(new LiveNotice(id, true, text));
        }
    }
}
