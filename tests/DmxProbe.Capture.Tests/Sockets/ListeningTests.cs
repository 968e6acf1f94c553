using System.Net;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Sockets;
using DmxProbe.Capture.Tests.Live;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Capture.Tests.Sockets;

/// <summary>What <c>net</c> joins, says and answers, on interfaces and a clock of the test's own.</summary>
public sealed class ListeningTests : IDisposable
{
    private static readonly byte[] Poll = [.. "Art-Net\0"u8, 0x00, 0x20, 0, 14, 6, 0];
    private readonly SettableClock _computer = new();
    private readonly List<LiveNotice> _told = [];
    private readonly FakeReceiver _receiver;
    private readonly List<InterfaceInfo> _interfaces =
    [
        Interface("lo", 1, "127.0.0.1", isLoopback: true),
        Interface("eth0", 2, "192.0.2.2"),
        Interface("wlan0", 3, "198.51.100.2", isWireless: true),
    ];

    public ListeningTests() => _receiver = new FakeReceiver(() => _computer.Advance(TimeSpan.FromMilliseconds(20)));

    public void Dispose() => _receiver.Dispose();

    [Fact]
    public void Only_the_discovery_universe_is_joined_and_nothing_through_the_air_or_the_loopback()
    {
        using HearingSource source = Open(Settings());
        Assert.Equal(["239.255.250.214%2"], _receiver.Joined); // 64214 = FAD6h (E1.31-2018 Table 9-10)
        Assert.Contains("192.0.2.2/24", Told("joined").Text, StringComparison.Ordinal);
        Assert.Contains("wlan0", Told("not-joined-wireless").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Wireless_is_joined_when_asked()
    {
        using HearingSource source = Open(Settings() with { JoinOnWireless = true, Universes = [1] });
        Assert.Equal(["239.255.0.1%2", "239.255.250.214%2", "239.255.0.1%3", "239.255.250.214%3"], _receiver.Joined);
    }

    [Fact]
    public void Nothing_heard_in_five_seconds_is_said_once_with_the_interfaces()
    {
        using HearingSource source = Open(Settings());
        Run(source, seconds: 4.5);
        Assert.DoesNotContain(_told, notice => notice.Id == "nothing-heard");
        Run(source, seconds: 10);
        string text = Told("nothing-heard").Text;
        Assert.Contains("eth0 (192.0.2.2/24)", text, StringComparison.Ordinal);
        Assert.Contains("firewall", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Polls_without_levels_are_said_and_nothing_is_answered()
    {
        using HearingSource source = Open(Settings());
        for (int i = 0; i < 12; i++)
        {
            Arrive("192.0.2.9", "192.0.2.255", ArtNetHeader.Port, Poll);
            Run(source, seconds: 1);
        }

        Assert.Contains("192.0.2.9", Told("polls-without-levels").Text, StringComparison.Ordinal);
        Assert.Empty(_receiver.Sent);
    }

    [Fact]
    public void Levels_keep_it_silent()
    {
        using HearingSource source = Open(Settings());
        for (int i = 0; i < 12; i++)
        {
            Arrive("192.0.2.9", "192.0.2.255", ArtNetHeader.Port, Poll);
            Arrive("192.0.2.9", "239.255.0.1", SacnPackets.Port, SacnPackets.Data(new byte[16], "x", 1, i, new byte[512]));
            Run(source, seconds: 1);
        }

        Assert.DoesNotContain(_told, notice => notice.IsWarning && notice.Id != "not-joined-wireless");
    }

    [Fact]
    public void A_sender_outside_every_subnet_is_named()
    {
        using HearingSource source = Open(Settings());
        Arrive("2.0.0.5", "255.255.255.255", ArtNetHeader.Port, Poll);
        Run(source, seconds: 8);
        Assert.Contains("2.0.0.5", Told("masks-do-not-match").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Announced_it_answers_each_poller_of_its_subnet_once_a_second()
    {
        using HearingSource source = Open(Settings() with { Announce = true });
        for (int i = 0; i < 50; i++)
        {
            Arrive("192.0.2.9", "192.0.2.255", ArtNetHeader.Port, Poll);
            Arrive("2.0.0.5", "255.255.255.255", ArtNetHeader.Port, Poll);
            Run(source, seconds: 0.1);
        }

        Assert.InRange(_receiver.Sent.Count, 4, 6);
        Assert.All(_receiver.Sent, sent => Assert.Equal("192.0.2.9:6454", sent.To));
        Assert.True(ArtPollReplyPacket.TryParse(_receiver.Sent[0].Payload, out ArtPollReplyPacket reply, out _));
        Assert.Equal(239, reply.Length);
        Assert.Equal("192.0.2.2", reply.Ip.ToString());
        Assert.Equal(0, reply.NumPorts);
    }

    [Fact]
    public void Listed_universes_are_offered_or_joined_when_asked()
    {
        byte[] list = SacnPackets.Discovery(new byte[16], "desk", [1, 2, 3, 9]);
        using (HearingSource source = Open(Settings()))
        {
            Arrive("192.0.2.9", "239.255.250.214", SacnPackets.Port, list);
            Run(source, seconds: 3);
            Assert.Contains("1-3, 9", Told("listed-not-joined").Text, StringComparison.Ordinal);
            Assert.Single(_receiver.Joined);
        }

        _receiver.Joined.Clear();
        using HearingSource joining = Open(Settings() with { JoinHeard = true });
        Arrive("192.0.2.9", "239.255.250.214", SacnPackets.Port, list);
        Run(joining, seconds: 3);
        Assert.Contains("239.255.0.9%2", _receiver.Joined);
    }

    [Fact]
    public void An_interface_that_comes_back_is_joined_again_and_the_gap_is_loss()
    {
        using HearingSource source = Open(Settings());
        Run(source, seconds: 2);
        _interfaces.RemoveAt(1);
        long lost = Run(source, seconds: 5);
        Assert.InRange(lost, 5, 8);
        Assert.Equal(["239.255.250.214%2"], _receiver.Left);
        _interfaces.Add(Interface("eth0", 7, "192.0.2.2"));
        Run(source, seconds: 2);
        Assert.Equal(0, Run(source, seconds: 5));
        Assert.Contains("239.255.250.214%7", _receiver.Joined);
        Told("interface-down");
        Told("interface-up");
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_clock_set_by_an_hour_moves_no_time(int hours)
    {
        using HearingSource source = Open(Settings());
        Timestamp before = TimeAfter(source, 1);
        _computer.Set(TimeSpan.FromHours(hours));
        Timestamp after = TimeAfter(source, 1);
        Assert.InRange((after - before).TotalSeconds, 0.9, 1.2);
        Told("clock-set");
    }

    [Fact]
    public void Traffic_over_half_the_link_is_warned_of()
    {
        using HearingSource source = Open(Settings());
        byte[] packet = SacnPackets.Data(new byte[16], "x", 1, 0, new byte[512]);
        for (int i = 0; i < 60; i++)
        {
            for (int n = 0; n < 200; n++)
            {
                Arrive("192.0.2.9", "239.255.0.1", SacnPackets.Port, packet);
            }

            Run(source, seconds: 0.1);
        }

        Assert.Contains("10 Mbit/s", Told("link-half-full").Text, StringComparison.Ordinal);
    }

    private static InterfaceInfo Interface(string name, int index, string address, bool isWireless = false, bool isLoopback = false) =>
        new(name, index, [new InterfaceAddress(IPAddress.Parse(address), 24)], 10_000_000, IsUp: true, isWireless, isLoopback);

    private LiveSettings Settings() => new() { Clock = _computer, Tell = _told.Add, ReadInterfaces = () => [.. _interfaces] };

    private HearingSource Open(LiveSettings settings)
    {
        SteadyClock clock = new(_computer);
        NetSource net = new("net", settings, null, clock, _receiver);
        return new HearingSource(net, settings, () => (net.Watch.Up, net.Watch.All), net)
        {
            Announcer = settings.Announce ? new Announcer(_receiver, settings, net.Watch) : null,
        };
    }

    private void Arrive(string from, string to, ushort port, byte[] payload)
    {
        long now = (_computer.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks) * 100;
        _receiver.Arrive(Timestamp.FromUnixNanoseconds(now), 2, from, to, port, payload);
    }

    private long Run(HearingSource source, double seconds)
    {
        long lost = 0;
        long until = _computer.GetTimestamp() + (long)(seconds * _computer.TimestampFrequency);
        while (_computer.GetTimestamp() < until)
        {
            Assert.NotEqual(ReadStatus.End, source.Read(out CaptureRecord record));
            lost += record.LostBefore;
        }

        return lost;
    }

    private Timestamp TimeAfter(HearingSource source, double seconds)
    {
        Run(source, seconds);
        source.Read(out CaptureRecord record);
        return record.Time;
    }

    private LiveNotice Told(string id) => Assert.Single(_told, notice => notice.Id == id);
}
