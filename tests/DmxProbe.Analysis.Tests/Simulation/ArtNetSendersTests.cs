using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>The simulated Art-Net machines keep the rules of the published specification (standards-facts C5).</summary>
public class ArtNetSendersTests
{
    private const long Second = 1_000_000_000;
    private const int Payload = 42;
    private static readonly Host s_controller = Host.At("controller", "10.0.0.1");
    private static readonly Host s_gateway = Host.At("gateway", "10.0.0.2");

    [Fact]
    public void Sequence_numbers_run_from_1_to_255_and_never_use_0()
    {
        SentPacket[] sent = Send(Output() with { ConstantRate = true, FirstSequence = 254 }, 20);

        Assert.Equal([254, 255, 1, 2], sent.Take(4).Select(p => (int)p.Frame[Payload + 12]));
        Assert.DoesNotContain(sent, p => p.Frame[Payload + 12] == 0);
    }

    [Fact]
    public void A_sender_that_does_not_count_sends_sequence_0()
    {
        Assert.All(Send(Output() with { Counted = false }, 5), p => Assert.Equal(0, p.Frame[Payload + 12]));
    }

    [Fact]
    public void Data_is_unicast_with_its_address_and_length()
    {
        SentPacket packet = Send(Output() with { PortAddress = 0x123, SlotCount = 24, Physical = 3 }, 1)[0];

        Assert.Equal(new UniverseId(UniverseProtocol.ArtNet, 0x123), packet.Universe);
        Assert.Equal([10, 0, 0, 2], packet.Frame[30..34]);
        Assert.Equal([3, 0x23, 1, 0, 24], packet.Frame[(Payload + 13)..(Payload + 18)]);
        Assert.Equal(Payload + 18 + 24, packet.Frame.Length);
    }

    [Fact]
    public void Polls_go_out_every_two_and_a_half_to_three_seconds_and_are_answered_within_one()
    {
        ArtNetController controller = new("controller", s_controller) { Outputs = [Output()] };
        ArtPollReplyFields reply = new() { Address = IPAddress.None, PortName = "A", PortAddress = 0 };
        SimulatedCapture capture = new SimulatedNetwork(9)
            .Add(new ArtNetNode("gateway", s_gateway, reply) { Pollers = [controller] })
            .Add(controller)
            .Run(60 * Second);

        SimulatedPacket[] polls = [.. capture.Packets.Where(p => p.Sent.Kind == PacketKind.Poll)];
        SimulatedPacket[] replies = [.. capture.Packets.Where(p => p.Sent.Kind == PacketKind.Reply)];
        Assert.InRange(polls.Length, 20, 24);
        Assert.InRange(replies.Length, polls.Length - 1, polls.Length);
        for (int i = 1; i < polls.Length; i++)
        {
            Assert.InRange((polls[i].Time - polls[i - 1].Time).TotalSeconds, 2.499, 3.001);
        }

        Assert.All(replies, r => Assert.Contains(polls, p => (r.Time - p.Time).TotalSeconds is > 0 and <= 1));
        Assert.All(replies, r => Assert.Equal([10, 0, 0, 1], r.Sent.Frame[30..34]));
        Assert.All(replies, r => Assert.Equal([10, 0, 0, 2], r.Sent.Frame[(Payload + 10)..(Payload + 14)]));
    }

    [Fact]
    public void Other_start_codes_go_out_as_ArtNzs_in_the_same_count()
    {
        SentPacket[] sent = Send(Output() with { Alternates = [new AlternatePacket(0x17, [0, 0, 65, 0])] }, 4);

        SentPacket[] nzs = [.. sent.Where(p => p.Kind == PacketKind.Alternate)];
        Assert.Equal(4, nzs.Length);
        Assert.All(nzs, p => Assert.Equal([0x00, 0x51], p.Frame[(Payload + 8)..(Payload + 10)]));
        Assert.Equal(Enumerable.Range(1, sent.Length), sent.Select(p => p.Sequence));
    }

    private static ArtNetOutput Output() => new() { PortAddress = 0, To = s_gateway, Levels = Levels.Constant(1, 2) };

    private static SentPacket[] Send(ArtNetOutput output, long seconds)
    {
        ArtNetController controller = new("controller", s_controller) { Polls = false, Outputs = [output] };
        return [.. controller.Send(new SeededRandom(4), seconds * Second)];
    }
}
