using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Surveys;

/// <summary>A hand-made survey in which every member holds something, for tests of what renders it.</summary>
public static class FullSurvey
{
    /// <summary>2026-03-14 19:41:00 UTC.</summary>
    public static Timestamp Start { get; } = Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000);

    /// <summary>The survey.</summary>
    /// <param name="firstName">Name of the first sender.</param>
    /// <param name="secondName">Name of the second.</param>
    public static SurveySnapshot With(string firstName = "main controller", string secondName = "old laptop")
    {
        SenderSummary first = Sender(0, firstName, "10.20.0.10", "6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b901");
        SenderSummary second = Sender(1, secondName, "10.20.0.77", "d9a0463c-7e18-4b52-8f60-19c2b7704ae5");
        return new SurveySnapshot
        {
            Inputs = [Input()],
            Universes = [Universe(first, second)],
            Lines = [Line()],
            Nodes = [Node()],
            Discovery = [new DiscoverySummary { Sender = first, Universes = [2, 3, 4, 9], Complete = false, Packets = 6 }],
            Synchronization = [Synchronization(first)],
            ArtSyncSenders = [new ArtSyncSummary("10.20.0.30", 3, 1, 0, default, At(1), At(2), 7)],
            Pollers = [new PollerSummary("10.20.0.30", 22, At(1), At(59), null)],
            Network = Network(),
            Marks = [new MarkSummary(At(3), "LX1-6 flickers \u001b[2J", 40)],
            MarksNotListed = 2,
            Rdm = new RdmSnapshot([Device()], [Port()], 7),
            ArtPolls = 22,
            ArtSyncs = 3,
            OtherOpCodes = [new CountOf(0x9900, 2)],
            SyncPackets = [new CountOf(7, 12)],
            FramesOfUniversesNotListed = 5,
            FramesOfSendersNotListed = 6,
            First = Start,
            Last = At(60),
            Findings = Findings(firstName, secondName),
        };
    }

    /// <summary>A survey in which nothing is wrong.</summary>
    public static SurveySnapshot Clean() => With() with { Findings = [] };

    /// <summary>Timing figures, one of each verdict.</summary>
    public static IReadOnlyList<TimingMeasurement> Timing { get; } =
    [
        Figure("refreshRate", "Hz", 40, 44, 46.2, LimitVerdict.OutsideTransmit) with
        {
            Transmit = new LimitRange(null, 44, "first source"),
            Receive = new LimitRange(1, 50, "second source"),
            Note = "mean while running",
        },
        Figure("silence", "ms", 22.5, 22.7, 12_000, LimitVerdict.OutsideReceive) with { Receive = new LimitRange(null, 2_500, "third source") },
        Figure("keepAlive", "ms", 900, 1_000, 1_010, LimitVerdict.Undecided) with
        {
            Transmit = new LimitRange(800, 1_000, "fourth source"),
            UndecidedAgainst = "transmit max",
        },
        Figure("slotCount", "slots", 512, 512, 512, LimitVerdict.Inside) with { Transmit = new LimitRange(1, 512, "fifth source") },
        Figure("break", "us", null, null, null, LimitVerdict.NotMeasurable) with { Count = 0, Resolution = null, Note = "only line edges show it" },
    ];

    /// <summary>A timed input in which every member holds something.</summary>
    public static TimedInput Timed { get; } = new("tonight.vcd", [.. Timing, LineFigure()])
    {
        Lines = [Line()],
        Assumptions = ["The time unit is taken for microseconds."],
        Cut = "the VCD file is cut short at byte 900",
    };

    /// <summary>Two pairs of taps: a gateway and the two ends of a line.</summary>
    public static IReadOnlyList<TapPair> Taps { get; } =
    [
        new TapPair(0, 1, new TapComparison(false, [Gateway()], [])),
        new TapPair(1, 2, new TapComparison(true, [], [Segment()])),
    ];

    private static GatewayComparison Gateway() => new()
    {
        Line = new UniverseId(UniverseProtocol.Line, 0),
        Universe = new UniverseId(UniverseProtocol.Sacn, 2),
        RunnerUp = new UniverseId(UniverseProtocol.Sacn, 3),
        RunnerUpShare = 0.25,
        Senders = 2,
        SameClock = true,
        Offset = Duration.FromMilliseconds(3),
        Latency = new IntervalStatistics(
            900,
            Duration.FromMilliseconds(3),
            Duration.FromMilliseconds(14),
            Duration.FromMilliseconds(13),
            Duration.FromMilliseconds(24),
            Duration.FromMilliseconds(27),
            Duration.FromMilliseconds(31)),
        Resolution = Duration.FromMicroseconds(2),
        Changes = 1_000,
        ChangesPassed = 900,
        NetworkHz = 44,
        LineHz = 40,
        Fits =
        [
            new RuleFit(MergeRule.HighestValue, 2_400, 3, 12, 1_000, 900),
            new RuleFit(MergeRule.LatestChange, 2_400, 480, 9_000, 1_200, 700),
        ],
        BestRules = [MergeRule.HighestValue],
        Losses = [new LossObservation(At(20), AfterLoss.GoesDark, Duration.FromMilliseconds(2_000))],
    };

    private static SegmentComparison Segment() => new()
    {
        Start = new UniverseId(UniverseProtocol.Line, 0),
        End = new UniverseId(UniverseProtocol.Line, 0),
        IsAligned = true,
        Packets = 2_400,
        Missing = 2,
        DamagedAtEnd = 12,
        DamagedAtStart = 1,
        Different = 3,
        DifferingSlots = [new CountOf(9, 3)],
    };

    private static TimingMeasurement LineFigure() => Figure("markAfterBreak", "us", 9, 10, 11, LimitVerdict.OutsideTransmit) with
    {
        Subject = "line A 'out'",
        Protocol = UniverseProtocol.Line,
        MeasuredAt = "edges",
        Transmit = new LimitRange(12, 1e6, "sixth source"),
        Receive = new LimitRange(8, 1e6, "seventh source"),
        Mean = 10,
        Deviation = 0.5,
        P5 = 9,
        P95 = 11,
        P99 = 11,
        Histogram = [new DistributionBar(9, 9, 10), new DistributionBar(10, 10, 1_480), new DistributionBar(11, 11, 9)],
        Packets = new VerdictCounts(1, 1_480, 2, 16),
        Role = "transmitter",
    };

    private static LineChannelSummary Line() => new()
    {
        Name = "out",
        Description = "data + of the stage-left gateway",
        Use = LineChannelUse.Decoded,
        Line = new UniverseId(UniverseProtocol.Line, 0),
        Partner = "out/",
        Resolution = Duration.FromNanoseconds(100),
        First = Start,
        Length = Duration.FromSeconds(10),
        Edges = 900_000,
        Glitches = 3,
        Packets = 1_500,
        CutPackets = 1,
        Characters = 769_000,
        FramingErrors = 2,
        FramingErrorSlots = [(12, 2)],
        Pulses = 850_000,
        EdgesOffGrid = 1,
        PulsesBeforeBreak = 40,
        StrayCharacters = 4,
        EmptyBreaks = 1,
        DiscoveryReplies = 2,
        DiscoveryCollisions = 1,
        DamagedRdm = 1,
        Gaps = 1,
    };

    private static SynchronizationSummary Synchronization(SenderSummary sender) => new()
    {
        Address = 7,
        Packets = 12,
        Senders = [sender],
        Lost = 1,
        Discarded = 2,
        Frames = 300,
        Universes = [2],
        FrozenFrames = 4,
        FrozenFrom = At(20),
        FrozenTo = At(21),
        FrozenRecord = 900,
        ForcedFrames = 5,
        First = Start,
        Last = At(21),
        FirstRecord = 12,
    };

    private static NetworkSummary Network() => new()
    {
        Groups = new GroupSnapshot(
            [new QuerierSummary("10.20.0.1", false, 3, 2, At(1), At(50), 125, 0)],
            [new MembershipSummary(IpAddress.FromIpv4(0xEFFF0002), 2, "10.20.0.21", 2, 3, At(1), At(50), At(55))],
            1,
            Duration.FromSeconds(49),
            At(1)),
        Conflicts = [new AddressConflict("10.20.0.50", ["02:00:00:00:00:01", "02:00:00:00:00:02"], 3, true, false, At(5), At(9), 77)],
        ArpPackets = 9,
        Fragments = new FragmentSnapshot(3, 2, "10.20.0.10", At(2), At(4), 33),
        SeesNetwork = true,
    };

    private static Timestamp At(double seconds) => Start + Duration.FromSeconds(seconds);

    private static SenderSummary Sender(int index, string name, string address, string cid) => new()
    {
        Index = index,
        Protocol = UniverseProtocol.Sacn,
        Name = name,
        Address = address,
        Addresses = [address, "fe80::1"],
        Cid = cid,
    };

    private static InputSummary Input() => new()
    {
        Name = "tonight.pcapng",
        Records = 1_902,
        First = Start,
        Last = At(60),
        Malformed = 1,
        CutBySnapLength = 2,
        Fragments = 3,
        LostByCapture = 4,
        OtherTraffic = 5,
        Cut = new InputProblem("the file ends inside a packet record", "byte 1,204", "96 bytes", "12", "the records before it were read"),
        Assumptions = ["The clock is taken for UTC."],
        Interfaces = [new CaptureInterface(0, "eth0", "mirror port", LinkType.Ethernet, 65_535, Duration.FromMicroseconds(1), StampedBy.Kernel)],
    };

    private static UniverseSummary Universe(SenderSummary first, SenderSummary second) => new()
    {
        Id = new UniverseId(UniverseProtocol.Sacn, 2),
        Frames = 3_000,
        SlotCounts = [new CountOf(100, 2), new CountOf(512, 2_998)],
        Streams = [Stream(first), Stream(second) with { Terminated = false, Silent = true, Last = At(40) }],
        Obeyed = [new ObeyedSpan(Start, At(10), [0, 1], 100), new ObeyedSpan(At(10), At(60), [1], 150) { Ignored = [0] }],
        ObeyedNotListed = 2,
        Arbitration = new UniverseArbitration
        {
            Obeyed = [],
            Winners =
            [
                new WinnerRange(1, 12,
                [
                    new SlotCase(WinCondition.SlotBySlot, [1], WinRule.AddressPriority, At(12), -1, null),
                    new SlotCase(WinCondition.WholeUniverse, [0], WinRule.HigherPriority, null, -1, null),
                ]),
                new WinnerRange(13, 512, [new SlotCase(WinCondition.Always, [0, 1], WinRule.EqualPriority, null, -1, null)]),
            ],
            Changes = [new WinnerChange(At(12), 1, 12, WinCondition.SlotBySlot, [0], [1], WinRule.AddressPriority, ChangeCause.AddressPriorityChanged, 1)],
            ChangesNotListed = 3,
            Sync = SyncState.Frozen,
            SyncAddress = 7,
            LastSync = At(50),
            HasAddressPriority = true,
        },
    };

    private static StreamSummary Stream(SenderSummary sender)
    {
        IntervalStatistics intervals = new(
            1_499,
            Duration.FromMilliseconds(20),
            Duration.FromMilliseconds(23),
            Duration.FromMilliseconds(22),
            Duration.FromMilliseconds(25),
            Duration.FromMilliseconds(30),
            Duration.FromMilliseconds(1_200));
        return new StreamSummary
        {
            Sender = sender,
            First = Start,
            Last = At(58),
            FirstRecord = 12,
            Frames = 1_500,
            LevelFrames = 1_490,
            RateHz = 43.9,
            ChangedHz = 10.25,
            ChangedFrames = 600,
            KeepAlive = Duration.FromMilliseconds(900),
            KeepAliveIntervals = intervals,
            Intervals = intervals,
            LongestSilenceFrom = At(30),
            Sequence = new SequenceStatistics(1_500, 3, 2, 1, 4),
            Priorities = [new PrioritySpan(100, Start, At(10)), new PrioritySpan(150, At(10), At(58))],
            PrioritiesNotListed = 1,
            SlotCounts = [new CountOf(100, 1), new CountOf(512, 1_489)],
            StartCodes = [new CountOf(0, 1_490), new CountOf(0xDD, 10)],
            Terminations = 3,
            Terminated = true,
            Returns = 1,
            PreviewFrames = 7,
            DraftFrames = 8,
            CutFrames = 9,
            SyncAddresses = [7],
            SecondInstances = 11,
        };
    }

    private static RdmDevice Device() => new()
    {
        Universe = new UniverseId(UniverseProtocol.ArtNet, 0),
        Uid = new RdmUid(0x7FF0_0000_0106),
        First = At(1),
        Last = At(59),
        FirstRecord = 20,
        IsInTable = true,
        IsHeard = true,
        ModelId = 0x42,
        Manufacturer = "Example",
        Model = "LED wash",
        Label = "LX1-6",
        StartAddress = 16,
        AddressAt = At(5),
        AddressRecord = 77,
        Footprint = 10,
        Personality = 2,
        PersonalityCount = 3,
        Personalities = [new RdmPersonality(2, 10, "10 slot")],
        Slots = [new RdmSlot(1, "intensity", "Dimmer"), new RdmSlot(2, "red", "")],
        SubDevices = [new RdmSubDevice(1, 101, 1)],
        IsIdentifying = true,
        AddressChanges = [new RdmAddressChange(At(4), 61, 16, new RdmUid(0x7FF0_0000_0001))],
        Requests = 12,
        Answers = 9,
        Unanswered = 3,
        SecondAnswers = 1,
        CollisionsOfItsOwn = 2,
        Slowest = Duration.FromMilliseconds(3),
        Late = 1,
        Refusals = [new RdmRefusal(0xF0, true, 4, 2)],
        Vanished = 2,
        Returned = 1,
    };

    private static RdmPort Port() => new()
    {
        Universe = new UniverseId(UniverseProtocol.Line, 0),
        First = At(1),
        Last = At(59),
        FirstRecord = 20,
        Requests = 12,
        Answers = 9,
        Broadcasts = 2,
        Discoveries = 40,
        DiscoveryReplies = 11,
        DiscoveryCollisions = 5,
        Damaged = 1,
        FirstDamagedRecord = 30,
        Tables = 4,
        TableChanges = 3,
        Flushes = 1,
        Share = new RdmShare(1_500, 64, 40, 25, Duration.FromMilliseconds(180), At(9), 4, 512),
    };

    private static NodeSummary Node() => new()
    {
        Address = "10.20.0.21",
        PortName = "stage left A",
        LongName = "stage left gateway",
        Replies = 22,
        ShortestReply = 213,
        StatedPort = 13_849,
        Outputs = [0, 1, 2, 7],
        InputsListed = [16],
        Merging = true,
    };

    private static Finding[] Findings(string firstName, string secondName) =>
    [
        new Finding
        {
            Id = "senders-at-equal-priority",
            Severity = Severity.Fault,
            Subject = "sACN 2",
            Text = $"sACN 2 has two senders at the same priority 100: '{firstName}' and '{secondName}'.",
            Measured = "2 senders at priority 100 for 10 s",
            Limit = "one sender at the highest priority",
            LimitSource = "E1.31-2018 6.2.3",
            From = Start,
            To = At(10),
            FirstRecord = 12,
            Action = "Switch off the sender that should not be there.",
            Cautions = ["People clear of moving parts first."],
        },
        new Finding { Id = "lost-packets", Severity = Severity.Warning, Subject = "sACN 2", Text = "3 lost packets from one sender." },
        new Finding { Id = "stream-ended", Severity = Severity.Info, Subject = "sACN 2", Text = "A sender ended its stream.", From = At(58) },
    ];

    private static TimingMeasurement Figure(string quantity, string unit, double? min, double? median, double? max, LimitVerdict verdict) => new()
    {
        Subject = "sACN 2 from 'main controller'",
        Protocol = UniverseProtocol.Sacn,
        Quantity = quantity,
        Unit = unit,
        Min = min,
        Median = median,
        Max = max,
        Count = 1_499,
        Resolution = 0.001,
        MeasuredAt = "network",
        Verdict = verdict,
    };
}
