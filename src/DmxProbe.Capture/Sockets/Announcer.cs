using DmxProbe.Capture.Live;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// Answers ArtPoll as a monitor that outputs nothing: one reply per second to each poller, in the same subnet only. Only made
/// where a person asked for it. Used by one thread.
/// </summary>
internal sealed class Announcer(IDatagramReceiver receiver, LiveSettings settings, InterfaceWatch watch)
{
    private const int MostPollers = 64;
    private static readonly Duration Rest = Duration.FromSeconds(1);
    private readonly Dictionary<IpAddress, Timestamp> _answered = [];
    private readonly byte[] _reply = new byte[ArtPollReplyPacket.FullLength];
    private bool _told;

    /// <summary>Replies sent.</summary>
    public long Replies { get; private set; }

    /// <summary>An ArtPoll came.</summary>
    public void Polled(IpAddress poller, Timestamp now)
    {
        if (poller.IsIpv6 || (_answered.TryGetValue(poller, out Timestamp last) && now - last < Rest)
            || (_answered.Count >= MostPollers && !_answered.ContainsKey(poller)))
        {
            return;
        }

        if (Subnet.Of(watch.Up, poller) is not (InterfaceInfo through, IpAddress own) || own == poller)
        {
            return;
        }

        _answered[poller] = now;
        int length = ArtPollReplyWriter.WriteMonitor(_reply, own, "DmxProbe", "DmxProbe, a monitor: listens only, outputs nothing");
        if (!receiver.Send(_reply.AsSpan(0, length), poller, ArtNetHeader.Port))
        {
            return;
        }

        Replies++;
        if (!_told)
        {
            _told = true;
            settings.Tell(new LiveNotice(
                "announced", false, $"answered the ArtPoll of {poller} on {through.Name} as a monitor without outputs; it may now send its universes here as well"));
        }
    }
}
