using System.Net;
using System.Net.Sockets;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Capture.Tests.Sockets;

/// <summary>Real sockets on the loopback interface; where another program has the lighting ports these tests are skipped.</summary>
[Collection("lighting ports")]
public class NetSourceTests
{
    [SkippableTheory]
    [InlineData(false)]
    [InlineData(true)]
    public void Datagrams_to_a_joined_group_arrive_as_packets_with_their_addresses_and_octets(bool portable)
    {
        List<LiveNotice> told = [];
        using ILiveSource source = Open(told, portable, 1, 2, 25);
        using Socket sender = Sender();
        byte[] payload = [.. Enumerable.Range(0, 638).Select(i => (byte)(i % 251))];
        for (int i = 0; i < 100; i++)
        {
            payload[0] = (byte)i;
            sender.SendTo(payload, Group(i % 2 == 0 ? 1 : 25));
        }

        int seen = 0;
        long lost = 0;
        HashSet<string> groups = [];
        foreach ((RecordKind kind, byte[] data, int original, long before, LinkType link) in Until(source, 100))
        {
            lost += before;
            Assert.Equal(RecordKind.Packet, kind);
            Assert.Equal(data.Length, original);
            Assert.True(NetworkDatagram.TryParse(link, data, out NetworkDatagram datagram, out _));
            Assert.Equal("127.0.0.1", datagram.Source.ToString());
            Assert.Equal(((IPEndPoint)sender.LocalEndPoint!).Port, datagram.SourcePort);
            Assert.Equal(SacnAddressing.Port, datagram.DestinationPort);
            Assert.Equal(638, datagram.Payload.Length);
            Assert.True(datagram.Payload[1..].SequenceEqual(payload.AsSpan(1)));
            groups.Add(datagram.Destination.ToString());
            seen++;
        }

        Assert.Equal(100, seen);
        Assert.Equal(0, lost);
        Assert.Equal(["239.255.0.1", "239.255.0.25"], groups.Order());
        Assert.Contains(told, notice => notice.Id == "joined" && notice.Text.Contains("universes 1-2, 25", StringComparison.Ordinal));
        Assert.Contains(told, notice => notice.Id is "buffer" or "buffer-small");
        Assert.Contains("made up", source.Interfaces[0].Description, StringComparison.Ordinal);
        Assert.Equal(portable || !OperatingSystem.IsLinux() ? StampedBy.OurRead : StampedBy.Kernel, source.Interfaces[0].StampedBy);
    }

    [SkippableFact]
    public void What_the_kernel_drops_is_counted_to_the_last_datagram()
    {
        Skip.IfNot(OperatingSystem.IsLinux(), "only Linux counts drops");
        const int Sent = 20_000;
        using ILiveSource source = Open([], portable: false, buffer: 4096, universes: [1]);
        using Socket sender = Sender();
        byte[] payload = new byte[638];
        for (int i = 0; i < Sent; i++)
        {
            sender.SendTo(payload, Group(1));
        }

        source.Stop();
        long packets = 0;
        long lost = 0;
        foreach ((RecordKind kind, _, _, long before, _) in Until(source, int.MaxValue))
        {
            packets += kind == RecordKind.Packet ? 1 : 0;
            lost += before;
        }

        Assert.Equal(Sent, packets + lost);
    }

    [SkippableFact]
    public void A_second_listener_is_told_who_has_the_port()
    {
        using ILiveSource source = Open([], portable: false);
        InputException refused = Assert.Throws<InputException>(() => LiveInput.Open("net", Settings([], false)));
        Assert.Contains("UDP port 6454", refused.Message, StringComparison.Ordinal);
        Assert.Contains("nic:NAME", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_address_that_no_interface_has_is_refused_with_those_there_are()
    {
        InputException refused = Assert.Throws<InputException>(() => LiveInput.Open("net:198.51.100.77", Settings([], false)));
        Assert.Contains("127.0.0.1", refused.Message, StringComparison.Ordinal);
    }

    private static ILiveSource Open(List<LiveNotice> told, bool portable, params int[] universes) =>
        Open(told, portable, LiveSettings.UsualReceiveBuffer, universes);

    private static ILiveSource Open(List<LiveNotice> told, bool portable, int buffer, int[] universes)
    {
        try
        {
            return LiveInput.Open("net:127.0.0.1", Settings(told, portable) with { Universes = universes, ReceiveBuffer = buffer });
        }
        catch (InputException taken) when (taken.Message.Contains("another program", StringComparison.Ordinal))
        {
            throw new SkipException(taken.Message);
        }
    }

    private static LiveSettings Settings(List<LiveNotice> told, bool portable) =>
        new() { Clock = TimeProvider.System, Tell = told.Add, Portable = portable };

    private static Socket Sender()
    {
        Socket sender = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        sender.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        sender.SetSocketOption(SocketOptionLevel.IP, SocketOptionName.MulticastInterface, IPAddress.Loopback.GetAddressBytes());
        return sender;
    }

    private static IPEndPoint Group(int universe) => new(IPAddress.Parse($"239.255.{universe >> 8}.{universe & 255}"), SacnAddressing.Port);

    private static List<(RecordKind Kind, byte[] Data, int Original, long LostBefore, LinkType Link)> Until(ILiveSource source, int count)
    {
        List<(RecordKind, byte[], int, long, LinkType)> seen = [];
        long started = TimeProvider.System.GetTimestamp();
        while (seen.Count < count && TimeProvider.System.GetElapsedTime(started).TotalSeconds < 10)
        {
            ReadStatus status = source.Read(out CaptureRecord record);
            if (status == ReadStatus.End)
            {
                break;
            }

            if (status == ReadStatus.Record)
            {
                seen.Add((record.Kind, record.Data.ToArray(), record.OriginalLength, record.LostBefore, record.LinkType));
            }
        }

        return seen;
    }
}
