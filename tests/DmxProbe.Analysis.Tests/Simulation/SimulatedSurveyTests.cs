using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.HarbourHall;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>What the survey measures against what the simulation knows to be true.</summary>
public class SimulatedSurveyTests
{
    private const long Second = 1_000_000_000;
    private static readonly byte[] CidOctets = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");

    [Theory]
    [InlineData(0.0, 0.0, 0.0)]
    [InlineData(0.02, 0.0, 0.0)]
    [InlineData(0.02, 0.0, 0.02)]
    [InlineData(0.10, 0.0, 0.0)]
    [InlineData(0.0, 0.05, 0.0)]
    [InlineData(0.05, 0.05, 0.0)]
    public void Lost_repeated_and_late_packets_are_the_true_ones(double loss, double duplication, double reorder)
    {
        SimulatedCapture capture = Mixed(
            new SimulatedNetwork(41) { Loss = loss, Duplication = duplication, Reorder = reorder }).Run(60 * Second);

        SurveySnapshot survey = Survey(capture);

        foreach (StreamTruth truth in capture.Streams)
        {
            StreamSummary measured = Stream(survey, truth.Universe);
            Assert.Equal(truth.LostBetween, measured.Sequence.Lost);
            Assert.Equal(truth.Duplicated, measured.Sequence.Repeated);
            Assert.Equal(truth.Late, measured.Sequence.OutOfOrder);
            Assert.Equal(0, measured.Sequence.Restarts);
            Assert.Equal(truth.FirstArrival, measured.First);
            Assert.Equal(truth.LastArrival, measured.Last);
            Assert.Equal(truth.Sent - truth.Lost + truth.Duplicated, measured.Frames);
        }
    }

    [Fact]
    public void On_an_unharmed_network_every_change_is_seen_and_nothing_is_wrong_with_the_sequence()
    {
        SimulatedCapture capture = Mixed(new SimulatedNetwork(6)).Run(30 * Second);

        SurveySnapshot survey = Survey(capture);

        Assert.Equal(capture.Streams.Count, survey.Universes.Sum(u => u.Streams.Count));
        Assert.All(
            capture.Streams,
            t => Assert.Equal(t.Changes - 1, Stream(survey, t.Universe).ChangedFrames)); // the first is no change
        Assert.Equal(0, survey.Inputs.Sum(i => i.Malformed));
    }

    [Fact]
    public void Keep_alives_and_a_constant_rate_are_measured_as_sent()
    {
        SimulatedCapture capture = new SimulatedNetwork(2).Add(Source(
            new SacnStream { Universe = 1, Levels = Levels.Constant(7) },
            new SacnStream { Universe = 2, Levels = Levels.Constant(7), ConstantRate = true, Tick = StreamPlan.Tick44 }))
            .Run(60 * Second);

        SurveySnapshot survey = Survey(capture);

        StreamSummary idle = Stream(survey, Sacn(1));
        Assert.InRange(idle.KeepAlive!.Value.TotalMilliseconds, 820, 980);
        Assert.InRange(Stream(survey, Sacn(2)).RateHz!.Value, 43.95, 44.05);
    }

    [Fact]
    public void Two_instances_of_a_dual_stack_packet_count_once()
    {
        SacnSource source = new("Source_A", Host.At("a", "192.0.2.10"), CidOctets)
        {
            DualStack = true,
            Streams = [new SacnStream { Universe = 1, Levels = Levels.Triangle(2 * Second) }],
        };
        SimulatedCapture capture = new SimulatedNetwork(2).Add(source).Run(20 * Second);

        StreamSummary stream = Stream(Survey(capture), Sacn(1));

        long sent = capture.Streams[0].Sent;
        Assert.Equal((sent, sent, 0, 0), (stream.Frames, stream.SecondInstances, stream.Sequence.Lost, stream.Sequence.Repeated));
    }

    [Fact]
    public void Priorities_termination_and_a_restart_are_told()
    {
        SacnSource source = Source(
            new SacnStream
            {
                Universe = 1,
                Levels = Levels.Triangle(4 * Second),
                PriorityChanges = [new PriorityChange(10 * Second, 150), new PriorityChange(20 * Second, 90)],
                Stop = 25 * Second,
            },
            new SacnStream
            {
                Universe = 2,
                Levels = Levels.Triangle(4 * Second),
                ConstantRate = true,
                FirstSequence = 3,
                Restarts = [new SenderRestart(10 * Second, Second, 100)],
            },
            new SacnStream { Universe = 3, Levels = Levels.Constant(1), Stop = 15 * Second, Terminates = false });
        SurveySnapshot survey = Survey(new SimulatedNetwork(2).Add(source).Run(30 * Second));

        StreamSummary first = Stream(survey, Sacn(1));
        Assert.Equal([100, 150, 90], first.Priorities.Select(p => p.Value));
        Assert.Equal((3, true, false), (first.Terminations, first.Terminated, first.Silent));
        Assert.Equal(1, Stream(survey, Sacn(2)).Sequence.Restarts);
        Assert.True(Stream(survey, Sacn(3)).Silent);
    }

    [Fact]
    public void Other_start_codes_and_the_draft_are_told_apart_from_levels()
    {
        SacnSource source = Source(
            new SacnStream
            {
                Universe = 1,
                Levels = Levels.Constant(1, 2, 3),
                Alternates = [new AlternatePacket(0xDD, new byte[512]), new AlternatePacket(0x17, [0, 0, 65]), new AlternatePacket(0xCC, [1, 24])],
            },
            new SacnStream { Universe = 2, Levels = Levels.Constant(1), Draft = true });
        SurveySnapshot survey = Survey(new SimulatedNetwork(2).Add(source).Run(30 * Second));

        StreamSummary mixed = Stream(survey, Sacn(1));
        Assert.Equal(
            [new CountOf(0x17, 10), new CountOf(0xCC, 10), new CountOf(0xDD, 10)],
            mixed.StartCodes.Where(c => c.Value != 0));
        Assert.Equal(0, mixed.ChangedFrames);
        Assert.Equal(0, mixed.Sequence.Lost);
        StreamSummary draft = Stream(survey, Sacn(2));
        Assert.Equal(draft.Frames, draft.DraftFrames);
    }

    [Fact]
    public void The_soundcheck_has_one_fault_and_the_healthy_night_none()
    {
        SurveySnapshot tonight = Survey(HarbourHallScenario.Capture(HarbourHallFaults.All));
        SurveySnapshot healthy = Survey(HarbourHallScenario.Capture(HarbourHallFaults.None));

        Assert.Equal(["senders-at-equal-priority", "old-source-left-on"], tonight.Findings.Select(each => each.Id));
        DmxProbe.Analysis.Findings.Finding finding = Assert.Single(tonight.Findings, each => each.Severity == DmxProbe.Analysis.Findings.Severity.Fault);
        Assert.Contains(HarbourHallScenario.OldLaptop, finding.Text, StringComparison.Ordinal);
        Assert.Empty(healthy.Findings);
        Assert.Equal("stage left gateway", Assert.Single(tonight.Nodes).LongName);
        Assert.Equal([2, 3], tonight.Discovery.Single(d => d.Sender.Name == HarbourHallScenario.MainController).Universes);
    }

    private static SimulatedNetwork Mixed(SimulatedNetwork network)
    {
        Host node = Host.At("node", "10.0.0.9");
        return network
            .Add(Source(
                new SacnStream { Universe = 1, Levels = Levels.Triangle(5 * Second) },
                new SacnStream { Universe = 2, Levels = Levels.Steps(1, Second), ConstantRate = true, FirstSequence = 200 }))
            .Add(new ArtNetController("b", Host.At("b", "10.0.0.1"))
            {
                Outputs =
                [
                    new ArtNetOutput { PortAddress = 0, To = node, Levels = Levels.Triangle(3 * Second), SlotCount = 24 },
                    new ArtNetOutput { PortAddress = 17, To = node, Levels = Levels.Steps(2, Second), ConstantRate = true },
                ],
            });
    }

    private static SacnSource Source(params SacnStream[] streams) =>
        new("Source_A", Host.At("a", "192.0.2.10"), CidOctets) { Streams = streams };

    private static SurveySnapshot Survey(SimulatedCapture capture)
    {
        using SimulatedSource source = capture.ToSource();
        return Surveyor.Run(source, default);
    }

    private static StreamSummary Stream(SurveySnapshot survey, UniverseId universe) =>
        survey.Universes.Single(u => u.Id == universe).Streams.Single();

    private static UniverseId Sacn(int universe) => new(UniverseProtocol.Sacn, universe);
}
