using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>The simulated source keeps the rules of E1.31-2018 (sections 4.3, 6.2.5, 6.2.6, 6.6.2, 9.1).</summary>
public class SacnSourceTests
{
    private const long Second = 1_000_000_000;
    private const int Payload = 42; // Ethernet, IPv4 and UDP before it
    private const int Priority = Payload + 108;
    private const int Sequence = Payload + 111;
    private const int Options = Payload + 112;
    private const int StartCode = Payload + 125;

    [Fact]
    public void A_change_is_followed_by_three_repeats_and_then_by_keep_alives()
    {
        List<SentPacket> sent = Send(20, new SacnStream { Universe = 1, Levels = Levels.Steps(3, 6 * Second) });

        SendReason[] expected =
        [
            SendReason.Change, SendReason.Repeat, SendReason.Repeat, SendReason.Repeat, SendReason.KeepAlive,
        ];
        Assert.Equal(expected, sent.Take(5).Select(p => p.Reason));
        Assert.Equal(4, sent.Count(p => p.Reason == SendReason.Change)); // at 0, 6, 12 and 18 s
        for (int i = 1; i < sent.Count; i++)
        {
            long gap = sent[i].Time - sent[i - 1].Time;
            bool equal = sent[i].Frame.AsSpan(StartCode).SequenceEqual(sent[i - 1].Frame.AsSpan(StartCode));
            Assert.Equal(sent[i].Reason != SendReason.Change, equal);
            switch (sent[i].Reason)
            {
                case SendReason.KeepAlive:
                    Assert.InRange(gap, 800_000_000, 1_000_000_000); // section 6.6.2
                    break;
                case SendReason.Repeat:
                    Assert.InRange(gap, 22_676_000, 30_000_000); // not above E1.11's maximum refresh rate
                    break;
                default:
                    break;
            }
        }
    }

    [Fact]
    public void Every_packet_of_a_universe_counts_in_one_sequence()
    {
        List<SentPacket> sent = Send(30, new SacnStream
        {
            Universe = 7,
            Levels = Levels.Triangle(10 * Second),
            FirstSequence = 250,
            Alternates = [new AlternatePacket(0xDD, [100, 0, 200]), new AlternatePacket(0x17, [0, 0, 65]), new AlternatePacket(0xCC, [1, 2])],
            Stop = 25 * Second,
        });

        for (int i = 0; i < sent.Count; i++)
        {
            Assert.Equal((250 + i) & 0xFF, sent[i].Frame[Sequence]);
            Assert.Equal(i, sent[i].Index);
        }

        byte[] codes = [.. sent.Where(p => p.Kind == PacketKind.Alternate).Take(4).Select(p => p.Frame[StartCode])];
        Assert.Equal([0xDD, 0x17, 0xCC, 0xDD], codes);
    }

    [Fact]
    public void A_stream_ends_with_three_terminated_packets_or_silently()
    {
        SacnStream stream = new() { Universe = 1, Levels = Levels.Constant(1), Stop = 5 * Second };

        List<SentPacket> ended = Send(10, stream);
        List<SentPacket> silent = Send(10, stream with { Terminates = false });

        Assert.Equal([0, 0x40, 0x40, 0x40], ended.TakeLast(4).Select(p => (int)p.Frame[Options])); // section 6.2.6
        Assert.All(silent, p => Assert.Equal(0, p.Frame[Options]));
        Assert.True(silent[^1].Time < 5 * Second);
    }

    [Fact]
    public void A_change_of_priority_is_sent_at_once()
    {
        List<SentPacket> sent = Send(12, new SacnStream
        {
            Universe = 1,
            Levels = Levels.Constant(5),
            Priority = 50,
            PriorityChanges = [new PriorityChange(4 * Second, 150), new PriorityChange(8 * Second, 50)],
        });

        SentPacket first = sent.First(p => p.Frame[Priority] == 150);
        Assert.InRange(first.Time, 4 * Second, (4 * Second) + 50_000_000);
        Assert.Equal(SendReason.Change, first.Reason);
        Assert.Equal([50, 150, 50], Runs(sent.Select(p => (int)p.Frame[Priority])));
    }

    [Fact]
    public void A_restart_is_a_silence_and_a_new_sequence()
    {
        SenderRestart restart = new(5 * Second, 1_500_000_000, 0);

        List<SentPacket> sent = Send(10, new SacnStream
        {
            Universe = 1,
            Levels = Levels.Triangle(3 * Second),
            ConstantRate = true,
            FirstSequence = 100,
            Restarts = [restart],
        });

        int after = sent.FindIndex(p => p.Time > restart.At);
        Assert.InRange(sent[after].Time - sent[after - 1].Time, restart.Silence, restart.Silence + 100_000_000);
        Assert.Equal(0, sent[after].Frame[Sequence]);
        Assert.Equal(1, sent[after + 1].Frame[Sequence]);
    }

    [Fact]
    public void A_constant_rate_is_kept_whether_anything_changes_or_not()
    {
        List<SentPacket> sent = Send(10, new SacnStream
        {
            Universe = 1,
            Levels = Levels.Constant(9),
            ConstantRate = true,
            Tick = StreamPlan.Tick44,
        });

        Assert.InRange(sent.Count, 438, 441);
    }

    [Fact]
    public void Discovery_comes_every_ten_seconds_and_lists_what_is_sent()
    {
        SacnSource source = new("Source_A", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
        {
            Streams =
            [
                new SacnStream { Universe = 300, Levels = Levels.Constant(1) },
                new SacnStream { Universe = 2, Levels = Levels.Constant(1), Stop = 15 * Second },
            ],
        };

        SentPacket[] found = [.. source.Send(new SeededRandom(1), 35 * Second).Where(p => p.Kind == PacketKind.Discovery)];

        Assert.Equal(4, found.Length);
        Assert.Equal(10 * Second, found[1].Time - found[0].Time); // section 4.3
        Assert.Equal([0, 2, 1, 44], found[0].Frame[(Payload + 120)..]);
        Assert.Equal([1, 44], found[2].Frame[(Payload + 120)..]);
    }

    [Fact]
    public void Dual_stack_sends_the_same_payload_twice()
    {
        SacnSource source = new("Source_A", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
        {
            Discovers = false,
            DualStack = true,
            Streams = [new SacnStream { Universe = 1, Levels = Levels.Triangle(2 * Second) }],
        };

        SentPacket[] sent = [.. source.Send(new SeededRandom(1), 5 * Second)];

        Assert.All(sent.GroupBy(p => p.Index), pair =>
        {
            Assert.Equal(2, pair.Count());
            Assert.Equal(pair.First().Frame[Payload..], pair.Last().Frame[(14 + 40 + 8)..]); // section 9.1
        });
    }

    [Fact]
    public void Synchronized_universes_are_followed_by_one_synchronization_packet()
    {
        SacnSource source = new("Source_A", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
        {
            Discovers = false,
            Streams =
            [
                new SacnStream { Universe = 1, Levels = Levels.Triangle(2 * Second), SyncAddress = 900 },
                new SacnStream { Universe = 2, Levels = Levels.Triangle(2 * Second), SyncAddress = 900 },
            ],
        };

        SentPacket[] sent = [.. source.Send(new SeededRandom(1), 2 * Second).OrderBy(p => p.Time)];

        SentPacket[] syncs = [.. sent.Where(p => p.Kind == PacketKind.Sync)];
        Assert.InRange(syncs.Length, 78, 81);
        Assert.All(syncs, p => Assert.Equal([3, 0x84], p.Frame[(Payload + 45)..(Payload + 47)]));
        Assert.Equal(Enumerable.Range(0, syncs.Length).Select(i => (byte)i), syncs.Select(p => p.Frame[Payload + 44]));
        Assert.Equal(PacketKind.Sync, sent[2].Kind);
    }

    [Fact]
    public void The_universe_is_that_of_the_stream()
    {
        SentPacket packet = Send(1, new SacnStream { Universe = 5, Levels = Levels.Constant(1) })[0];

        Assert.Equal(new UniverseId(UniverseProtocol.Sacn, 5), packet.Universe);
        Assert.Equal([0, 5], packet.Frame[(Payload + 113)..(Payload + 115)]);
    }

    private static List<SentPacket> Send(long seconds, SacnStream stream)
    {
        SacnSource source = new("Source_A", Host.At("a", "192.0.2.10"), SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e"))
        {
            Discovers = false,
            Streams = [stream],
        };
        return [.. source.Send(new SeededRandom(1), seconds * Second)];
    }

    private static List<int> Runs(IEnumerable<int> values)
    {
        List<int> runs = [];
        foreach (int value in values)
        {
            if (runs.Count == 0 || runs[^1] != value)
            {
                runs.Add(value);
            }
        }

        return runs;
    }
}
