using DmxProbe.Capture.Live;
using DmxProbe.Capture.Pcap;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Capture.Tests.Pcap;

/// <summary><c>nic:</c> on a virtual link that loses its carrier, goes, and comes back under the same name.</summary>
public sealed class NicSourceTests
{
    private const int ArtNetPort = 6454;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    [SkippableFact]
    public void An_interface_that_loses_its_link_or_is_made_anew_is_told_once_each_time_and_heard_again()
    {
        using VirtualLink? link = VirtualLink.TryMake();
        Skip.If(link is null, VirtualLink.NotHere);
        Skip.IfNot(PcapLibrary.IsPresent, "needs libpcap");
        List<LiveNotice> notices = [];
        LiveSettings settings = new() { Clock = TimeProvider.System, Tell = notices.Add };
        using NicSource source = NicSource.Open("nic:" + link.Near, link.Near, settings, new SteadyClock(settings.Clock, null));
        Heard heard = new(source, link);

        heard.Until(() => heard.Packets >= 3);
        Assert.Empty(notices);

        link.SetLink(up: false);
        heard.Until(() => notices.Count == 1);
        Assert.Equal(("interface-down", $"{link.Near} has no link: nothing is heard there until it is back, and what is missing until then is not the network's fault"), (notices[0].Id, notices[0].Text));
        link.SetLink(up: true);
        heard.Until(() => notices.Count == 2);
        Assert.Equal(("interface-up", $"{link.Near} is back"), (notices[1].Id, notices[1].Text));
        heard.UntilMore(3);

        link.Remove();
        heard.Until(() => notices.Count == 3);
        Assert.StartsWith($"{link.Near} is gone: ", notices[2].Text, StringComparison.Ordinal);
        long lost = heard.Lost;
        heard.Until(() => heard.Lost >= lost + 1); // a second that was not heard is the capture's own loss
        Assert.Equal(3, notices.Count);

        Assert.True(link.Make());
        heard.Until(() => notices.Count == 4);
        Assert.Equal("interface-up", notices[3].Id);
        heard.UntilMore(3);
        Assert.Equal(4, notices.Count);

        source.Stop();
        heard.Until(() => heard.HasEnded);
    }

    [SkippableFact]
    public void An_interface_that_is_not_there_is_refused_with_those_that_are()
    {
        Skip.IfNot(PcapLibrary.IsPresent, "needs libpcap");
        LiveSettings settings = new() { Clock = TimeProvider.System };
        InputException refused = Assert.Throws<InputException>(() => NicSource.Open("nic:none", "none", settings, new SteadyClock(settings.Clock, null)));
        Assert.Contains("there is no such interface", refused.Message, StringComparison.Ordinal);
    }

    // Sends and reads on one thread until something holds.
    private sealed class Heard(NicSource source, VirtualLink link)
    {
        private readonly byte[] _datagram = [.. "Art-Net\0"u8, 0x00, 0x50, 0, 14, 1, 0, 0, 0, 0, 2, 7, 7];
        private Timestamp _last = Timestamp.MinValue;

        public int Packets { get; private set; }

        public long Lost { get; private set; }

        public bool HasEnded { get; private set; }

        public void UntilMore(int packets)
        {
            int before = Packets;
            Until(() => Packets >= before + packets);
        }

        public void Until(Func<bool> holds)
        {
            long from = TimeProvider.System.GetTimestamp();
            while (!holds())
            {
                Assert.True(TimeProvider.System.GetElapsedTime(from) < Patience, $"waited too long: {Packets} packets, {Lost} lost");
                link.Send(_datagram, ArtNetPort);
                ReadStatus status = source.Read(out CaptureRecord record);
                if (status == ReadStatus.End)
                {
                    HasEnded = true;
                    Assert.True(holds());
                    return;
                }

                Assert.True(record.Time >= _last || status != ReadStatus.Idle, "time went back");
                _last = record.Time > _last ? record.Time : _last;
                Lost += record.LostBefore;
                Packets += status == ReadStatus.Record && record.Kind == RecordKind.Packet && record.Data.Length > 40 ? 1 : 0;
            }
        }
    }
}
