using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Compare;

/// <summary>Against a simulated gateway whose merge, latency and behaviour after loss are known.</summary>
public class GatewayComparerTests
{
    private const long Second = 1_000_000_000;
    private static readonly Duration Resolution = Duration.FromMilliseconds(1);

    [Theory]
    [InlineData(25_000_000, 4_000_000)]
    [InlineData(33_000_000, 12_000_000)]
    [InlineData(0, 2_000_000)]
    public void Latency_is_measured_as_it_was(long lineTick, long latency)
    {
        SimulatedGateway gateway = new(5) { LineTick = lineTick, Latency = latency, Jitter = 3_000_000 };
        gateway.Senders.Add(Moving("main", 1, 100, 1));
        gateway.Senders.Add(Moving("other", 2, 100, 2));
        GatewayComparison found = Compare(gateway, 30 * Second);
        Assert.Equal(new UniverseId(UniverseProtocol.Sacn, 1), found.Universe);
        Assert.True(found.SameClock);
        Assert.Equal(0, found.Fits[0].Mismatched);
        Assert.InRange(found.Fits[0].Frames, 800, 1_400);
        // The changes of the last 0.3 s are not judged: their line frames may lie behind the end.
        Assert.InRange(found.ChangesPassed, gateway.Latencies.Count - 16, gateway.Latencies.Count);
        Assert.InRange(found.Changes - found.ChangesPassed, gateway.ChangesLeftOut - 6, gateway.ChangesLeftOut + 2);
        long[] truth = [.. gateway.Latencies.Order()];
        Near(truth[truth.Length / 2], found.Latency!.Median, 0.04);
        Near(truth[(int)(truth.Length * 0.99)], found.Latency.P99, 0.04);
        Near(truth[0], found.Latency.Minimum, 0.001);
    }

    [Theory]
    [InlineData(GatewayMerge.Priority, MergeRule.PriorityHighestValue)]
    [InlineData(GatewayMerge.Htp, MergeRule.HighestValue)]
    [InlineData(GatewayMerge.Ltp, MergeRule.LatestChange)]
    [InlineData(GatewayMerge.Flicker, MergeRule.LatestPacket)]
    public void The_merge_rule_of_a_gateway_is_found(GatewayMerge merge, MergeRule rule)
    {
        SimulatedGateway gateway = new(6) { Merge = merge, LineTick = 30_000_000 };
        gateway.Senders.Add(Slow("backup", 1, 90, 2));
        gateway.Senders.Add(Slow("main", 1, 100, 1) with { Start = 5 * Second });
        gateway.Senders.Add(Slow("second", 1, 100, 3) with { Start = 15 * Second });
        GatewayComparison found = Compare(gateway, 40 * Second);
        Assert.Equal(rule, Assert.Single(found.BestRules));
        Assert.Equal(0, found.Fits[0].Mismatched);
        Assert.All(found.Fits.Skip(1), fit => Assert.True(fit.MismatchShare > 0.02 || fit.UnseenShare > 0.4, $"{fit} fits nearly as well"));
        Assert.Equal(3, found.Senders);
    }

    [Fact]
    public void Rules_that_nothing_here_tells_apart_are_all_named()
    {
        // The sender of the higher priority was also the first: obeying either gives the same line.
        SimulatedGateway gateway = new(6);
        gateway.Senders.Add(Slow("main", 1, 100, 1));
        gateway.Senders.Add(Slow("backup", 1, 90, 2) with { Start = 5 * Second });
        Assert.Equal(
            [MergeRule.PriorityHighestValue, MergeRule.PriorityLatestPacket, MergeRule.FirstSender], Compare(gateway, 40 * Second).BestRules);
    }

    [Fact]
    public void With_one_sender_no_rule_is_claimed()
    {
        SimulatedGateway gateway = new(7);
        gateway.Senders.Add(Moving("main", 1, 100, 1));
        Assert.Equal(Enum.GetValues<MergeRule>(), Compare(gateway, 10 * Second).BestRules);
    }

    [Theory]
    [InlineData(3_600 * Second, 0)]
    [InlineData(-7_200 * Second, 40)]
    [InlineData(86_400 * Second, -100)]
    public void Two_clocks_are_aligned_by_content_and_only_the_spread_is_told(long offset, double ppm)
    {
        SimulatedGateway gateway = new(8) { ClockOffset = offset, ClockPpm = ppm, Jitter = 5_000_000, LineTick = 0, Latency = 6_000_000 };
        gateway.Senders.Add(Moving("main", 1, 100, 1));
        GatewayComparison found = Compare(gateway, 60 * Second);
        Assert.False(found.SameClock);
        Assert.InRange(found.ClockPpm, ppm - 10, ppm + 10);
        Assert.Equal(Duration.Zero, found.Latency!.Minimum);
        long[] truth = [.. gateway.Latencies.Order()];
        double spread = (truth[truth.Length / 2] - truth[0]) / 1e6;
        Assert.InRange(found.Latency.Median.TotalMilliseconds, spread - 0.8, spread + 0.8);
        Assert.Equal(0, found.Fits[0].Mismatched);
    }

    [Theory]
    [InlineData(null, null, AfterLoss.Holds, 10)]
    [InlineData(2 * Second, null, AfterLoss.GoesDark, 2)]
    [InlineData(null, 3 * Second, AfterLoss.StopsSending, 3)]
    [InlineData(60_000_000L, null, AfterLoss.GoesDark, 0.06)]
    public void What_a_gateway_does_after_loss_is_told(long? dark, long? stop, AfterLoss outcome, double seconds)
    {
        SimulatedGateway gateway = new(9) { DarkAfter = dark, StopAfter = stop };
        gateway.Senders.Add(Moving("main", 1, 100, 1) with { SilentFrom = 20 * Second, SilentTo = 30 * Second });
        gateway.Senders.Add(Moving("other", 2, 100, 2));
        GatewayComparison found = Compare(gateway, 40 * Second);
        LossObservation loss = Assert.Single(found.Losses);
        Assert.Equal(outcome, loss.Outcome);
        Assert.InRange(loss.After.TotalSeconds, seconds - 0.1, seconds + 0.1);
        Assert.True(found.Fits[0].MismatchShare < 0.01, $"{found.Fits[0]}");
    }

    [Fact]
    public void The_universe_that_is_really_on_the_port_is_named()
    {
        SimulatedGateway gateway = new(10) { Universe = 7 };
        for (int universe = 1; universe <= 12; universe++)
        {
            gateway.Senders.Add(Moving("main", universe, 100, (ulong)universe));
        }

        GatewayComparison found = Compare(gateway, 10 * Second);
        Assert.Equal(7, found.Universe!.Value.Number);
        Assert.True(found.RunnerUpShare < 0.5);
    }

    [Fact]
    public void A_recording_of_the_line_itself_is_laid_over_the_network()
    {
        SimulatedGateway gateway = new(14) { LineTick = 26_000_000, Jitter = 2_000_000 };
        gateway.Senders.Add(Moving("main", 1, 100, 1));
        gateway.Senders.Add(Moving("other", 2, 100, 2));
        TapRecording network = Record(gateway.Run(8 * Second).Network);
        LineSynthesiser line = new(3);
        LineForm form = new();
        double at = 0;
        foreach ((long time, byte[] slots) in gateway.LinePackets)
        {
            line.Idle((time / 1e3) - at).Levels(form, slots);
            at = (time / 1e3) + form.Break + form.MarkAfterBreak + (513 * 11 * form.Bit) + form.MarkBeforeBreak;
        }

        TapRecording edges = Record(new LineRecording(2_000_000, [new LineTrack("out", line.Signal)]).Open());
        GatewayComparison found = Assert.Single(GatewayComparer.Compare(network, edges, Resolution));
        Assert.Equal("line A", found.Line.Label);
        Assert.Equal(new UniverseId(UniverseProtocol.Sacn, 1), found.Universe);
        Assert.False(found.SameClock); // a recording's time counts from its own start
        Assert.Equal(0, found.Fits[0].Mismatched);
        long[] truth = [.. gateway.Latencies.Order()];
        Assert.InRange(found.Latency!.Median.TotalMilliseconds, ((truth[truth.Length / 2] - truth[0]) / 1e6) - 1, ((truth[truth.Length / 2] - truth[0]) / 1e6) + 1);
        Assert.InRange(found.LineHz!.Value, 38.4, 38.5);
    }

    [Fact]
    public void A_line_that_carries_another_show_is_not_matched()
    {
        SimulatedGateway gateway = new(11);
        gateway.Senders.Add(Moving("main", 1, 100, 1));
        (SimulatedSource network, _) = gateway.Run(10 * Second);
        SimulatedGateway elsewhere = new(12);
        elsewhere.Senders.Add(Moving("main", 1, 100, 99));
        GatewayComparison found = Assert.Single(GatewayComparer.Compare(Record(network), Record(elsewhere.Run(10 * Second).Line), Resolution));
        Assert.Null(found.Universe);
        Assert.Null(found.Latency);
    }

    [Fact]
    public void A_line_that_never_changes_is_not_matched()
    {
        SimulatedGateway gateway = new(13);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Constant(1, 2, 3)));
        Assert.Null(Compare(gateway, 10 * Second).Universe);
    }

    /// <summary>Records a source as a tap.</summary>
    internal static TapRecording Record(ICaptureSource source)
    {
        RecordDecoder decoder = new();
        TapRecorder recorder = new();
        new Session(source, decoder, recorder).Run(CancellationToken.None);
        return recorder.Snapshot(decoder);
    }

    private static GatewayComparison Compare(SimulatedGateway gateway, long duration)
    {
        (SimulatedSource network, var line) = gateway.Run(duration);
        return Assert.Single(GatewayComparer.Compare(Record(network), Record(line), Resolution));
    }

    private static GatewaySender Moving(string name, int universe, int priority, ulong seed) =>
        new(name, universe, priority, Levels.Steps(seed, 30_000_000));

    private static GatewaySender Slow(string name, int universe, int priority, ulong seed) =>
        new(name, universe, priority, Levels.Steps(seed, seed == 1 ? 400_000_000 : 310_000_000));

    private static void Near(long truth, Duration measured, double share) =>
        Assert.InRange(measured.TotalMilliseconds, truth / 1e6 * (1 - share), truth / 1e6 * (1 + share));
}
