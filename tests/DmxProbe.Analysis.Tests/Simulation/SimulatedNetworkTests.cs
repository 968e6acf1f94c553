using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

public class SimulatedNetworkTests
{
    private const long Second = 1_000_000_000;
    private const int Sequence = 42 + 111;
    private static readonly UniverseId s_one = new(UniverseProtocol.Sacn, 1);

    [Fact]
    public void The_same_seed_gives_the_same_capture_and_another_seed_another()
    {
        SimulatedCapture first = Harmed(1).Run(10 * Second);
        SimulatedCapture again = Harmed(1).Run(10 * Second);
        SimulatedCapture other = Harmed(2).Run(10 * Second);

        Assert.Equal(Flat(first), Flat(again));
        Assert.NotEqual(Flat(first), Flat(other));
    }

    [Fact]
    public void An_unharmed_network_delivers_everything_in_order()
    {
        SimulatedCapture capture = Network(new SimulatedNetwork(5)).Run(20 * Second);

        StreamTruth truth = capture.Truth(s_one, "a");
        Assert.Equal((0, 0, 0, 0), (truth.Lost, truth.LostBetween, truth.Duplicated, truth.Late));
        Assert.Equal(truth.Sent, truth.LevelsArrived);
        Assert.Equal(4, capture.Streams.Count);
        Assert.True(capture.Packets.Zip(capture.Packets.Skip(1)).All(p => p.First.Time <= p.Second.Time));
    }

    [Theory]
    [InlineData(0.02, 1, 0)]
    [InlineData(0.10, 1, 0)]
    [InlineData(0.02, 6, 0)]
    [InlineData(0.05, 1, 0.03)]
    public void Losses_counted_from_the_sequence_numbers_are_the_true_ones(double loss, int run, double reorder)
    {
        SimulatedNetwork network = Network(new SimulatedNetwork(77) { Loss = loss, LossRun = run, Reorder = reorder });

        SimulatedCapture capture = network.Run(60 * Second);

        // The accounting of design.md section 6, written once more for this test.
        foreach (StreamTruth truth in capture.Streams)
        {
            long lost = 0;
            long late = 0;
            int? last = null;
            foreach (SimulatedPacket packet in capture.Packets.Where(
                p => p.Sent.Universe == truth.Universe && p.Sent.Sender == truth.Sender && p.Sent.CountsInSequence))
            {
                int now = packet.Sent.Frame[Sequence];
                int step = last is int before ? unchecked((sbyte)(now - before)) : 1;
                if (step < 0)
                {
                    late++;
                    lost--;
                    continue;
                }

                lost += step - 1;
                last = now;
            }

            Assert.Equal(truth.LostBetween, lost);
            Assert.Equal(truth.Late, late);
            Assert.Equal(truth.Sent, truth.Lost + truth.LevelsArrived);
        }

        double share = (double)capture.Streams.Sum(s => s.Lost) / capture.Streams.Sum(s => s.Sent);
        Assert.InRange(share, loss * run * 0.6, loss * run * 1.3);
    }

    [Fact]
    public void Copies_made_by_the_network_follow_their_packet()
    {
        SimulatedCapture capture = Network(new SimulatedNetwork(3) { Duplication = 0.05 }).Run(30 * Second);

        Assert.InRange(capture.Streams.Sum(s => s.Duplicated), 100, 400);
        Assert.All(
            capture.Packets.Index().Where(p => p.Item.IsCopy),
            p => Assert.Same(p.Item.Sent, capture.Packets[p.Index - 1].Sent));
    }

    [Fact]
    public void Jitter_moves_packets_without_changing_their_order()
    {
        SimulatedCapture capture = Network(new SimulatedNetwork(3) { Jitter = 40_000_000 }).Run(30 * Second);

        Assert.Equal(0, capture.Streams.Sum(s => s.Late));
        Assert.Contains(capture.Packets, p => (p.Time - capture.Start).Nanoseconds - p.Sent.Time > 30_000_000);
    }

    [Fact]
    public void A_dual_stack_packet_counts_as_lost_only_when_both_instances_are()
    {
        SacnSource source = new("a", Host.At("a", "192.0.2.1"), new byte[16])
        {
            DualStack = true,
            Discovers = false,
            Streams = [new SacnStream { Universe = 1, Levels = Levels.Constant(1), ConstantRate = true }],
        };

        StreamTruth truth = new SimulatedNetwork(8) { Loss = 0.2 }.Add(source).Run(60 * Second).Truth(s_one, "a");

        Assert.InRange((double)truth.Lost / truth.Sent, 0.02, 0.06); // 0.2 x 0.2
    }

    [Fact]
    public void The_source_delivers_every_packet_as_a_record()
    {
        SimulatedCapture capture = Harmed(1).Run(5 * Second);
        using SimulatedSource source = capture.ToSource();

        int number = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            SimulatedPacket packet = capture.Packets[number++];
            Assert.Equal(number, record.Number);
            Assert.Equal(packet.Time, record.Time);
            Assert.Equal(LinkType.Ethernet, record.LinkType);
            Assert.True(record.Data.SequenceEqual(packet.Sent.Frame));
        }

        Assert.Equal(capture.Packets.Count, number);
        Assert.Null(source.Problem);
        Assert.Single(source.Interfaces);
    }

    [Fact]
    public void The_random_numbers_are_those_of_SplitMix64()
    {
        // First outputs for seed 1234567 of the public-domain reference implementation (from memory of its test vector).
        SeededRandom random = new(1234567);

        Assert.Equal(6457827717110365317UL, random.NextBits());
        Assert.Equal(3203168211198807973UL, random.NextBits());
    }

    private static SimulatedNetwork Harmed(ulong seed) =>
        Network(new SimulatedNetwork(seed) { Loss = 0.03, Duplication = 0.02, Reorder = 0.01, Jitter = 5_000_000 });

    private static SimulatedNetwork Network(SimulatedNetwork network)
    {
        foreach ((string name, ulong seed) in new[] { ("a", 1UL), ("b", 2UL) })
        {
            network.Add(new SacnSource(name, Host.At(name, "192.0.2." + (seed + 1)), [.. Enumerable.Repeat((byte)seed, 16)])
            {
                Streams =
                [
                    new SacnStream { Universe = 1, Levels = Levels.Triangle(3 * Second), SlotCount = 20 },
                    new SacnStream { Universe = 2, Levels = Levels.Steps(seed, Second), ConstantRate = true, SlotCount = 20 },
                ],
            });
        }

        return network;
    }

    private static List<string> Flat(SimulatedCapture capture) =>
        [.. capture.Packets.Select(p => p.Time + " " + Convert.ToHexString(p.Sent.Frame))];
}
