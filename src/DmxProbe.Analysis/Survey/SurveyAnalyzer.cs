using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>The analyzers that a survey needs, fed as one, and their snapshots put together.</summary>
public sealed class SurveyAnalyzer : IAnalyzer
{
    private readonly LevelAnalyzer _levels = new();
    private readonly SequenceAnalyzer _sequences = new();
    private readonly ArrivalAnalyzer _arrivals = new();
    private readonly PresenceAnalyzer _presence = new();
    private readonly ArbitrationAnalyzer _arbitration;
    private readonly EventAnalyzer _events = new();
    private readonly SynchronizationAnalyzer _synchronization = new();
    private readonly ArtSyncAnalyzer _artSync = new();
    private readonly NetworkAnalyzer _network = new();
    private readonly RdmAnalyzer _rdm = new();
    private readonly RunningStreams _running;
    private readonly Deafness _deafness = new();
    private readonly LineTimingAnalyzer _lines = new(against: null, NetworkTiming.DefaultClockPpm);
    private Timestamp _now = Timestamp.MinValue;
    private Timestamp _deafUntil = Timestamp.MinValue;

    /// <summary>Makes a survey that has seen nothing.</summary>
    /// <param name="moreChanges">
    /// How many changes of who decides a slot are kept in all beyond the usual, so that it can be told for any moment
    /// (<see cref="UniverseArbitration.WinnersAt"/>); 100 octets each.
    /// </param>
    public SurveyAnalyzer(int moreChanges = 0)
    {
        _arbitration = new ArbitrationAnalyzer(_levels) { Room = moreChanges > 0 ? new ChangeRoom(moreChanges) : null };
        _running = new RunningStreams(_levels, _sequences, _arrivals, _presence, _network, _arbitration, _deafness);
        _arbitration.Running = _running;
    }

    /// <summary>Who decides each slot of each universe.</summary>
    public ArbitrationAnalyzer Arbitration
    {
        get
        {
            _running.SettleAll();
            return _arbitration;
        }
    }

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots) =>
        _running.TryRepeat(stream, time, sequence, print, slots);

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (_running.TryTake(in frame))
        {
            if (frame.Universe.Protocol == UniverseProtocol.ArtNet)
            {
                _artSync.OnFrame(in frame);
            }

            return;
        }

        _running.Settle(frame.Stream);
        Take(in frame);
        _running.Begin(in frame);
    }

    private void Take(in DmxFrame frame)
    {
        _levels.OnFrame(in frame);
        _deafness.Heard(frame.Time);
        _sequences.OnFrame(in frame);
        _arrivals.OnFrame(in frame);
        _presence.OnFrame(in frame);
        _arbitration.OnFrame(in frame);
        if (frame.SyncAddress != 0)
        {
            _synchronization.OnFrame(in frame);
        }

        if (frame.Universe.Protocol == UniverseProtocol.ArtNet)
        {
            _artSync.OnFrame(in frame);
        }

        _network.OnFrame(in frame);
        if (frame.StartCode == StartCode.Rdm || frame.Universe.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial)
        {
            _rdm.OnFrame(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            _running.SettleAll();
        }

        _arbitration.OnEvent(in linkEvent);
        if (linkEvent.Kind is LinkEventKind.ArtOutput or LinkEventKind.ArtMergeCommand or LinkEventKind.ArtTimeCode)
        {
            // Settings of nodes and the time of a show, not something that happened to the traffic.
            return;
        }

        _events.OnEvent(in linkEvent);
        _synchronization.OnEvent(in linkEvent);
        _artSync.OnEvent(in linkEvent);
        _network.OnEvent(in linkEvent);
        _rdm.OnEvent(in linkEvent);
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            _deafUntil = linkEvent.Time;
            _deafness.DeafUntil(linkEvent.Time);
            _sequences.OnEvent(in linkEvent);
            _arrivals.OnEvent(in linkEvent);
        }
    }

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet) => _network.OnNetworkPacket(in packet);

    /// <inheritdoc/>
    public void OnLineTiming(in LineTiming timing)
    {
        _lines.OnLineTiming(in timing);
        _rdm.OnLineTiming(in timing);
    }

    /// <inheritdoc/>
    public void OnRdm(in RdmTraffic traffic) => _rdm.OnRdm(in traffic);

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        _now = now;
        _arbitration.OnTime(now);
        _rdm.OnTime(now);
    }

    /// <summary>What is known up to the time last told, findings included.</summary>
    /// <param name="decoder">The decoder that fed this, with its tables.</param>
    /// <param name="inputs">The inputs, with what the decoder counted on their interfaces.</param>
    public SurveySnapshot Snapshot(RecordDecoder decoder, IReadOnlyList<InputSummary> inputs)
    {
        _running.SettleAll();
        IReadOnlyList<EventCount> events = _events.Snapshot(decoder.Senders);
        InputSummary[] dated = [.. inputs.Where(input => !input.IsUndated)];
        IReadOnlyList<InputSummary> timed = dated.Any(input => input.First is not null) ? dated : inputs;
        SurveySnapshot snapshot = new()
        {
            Inputs = inputs,
            Universes = Universes(decoder, inputs),
            Lines = decoder.Lines.Snapshot(),
            LineFigures = LineTimings.Measure(_lines, decoder.Lines.Snapshot()),
            Nodes = decoder.Nodes.Snapshot(),
            Discovery = decoder.Discovery.Snapshot(decoder.Senders),
            Synchronization = _synchronization.Snapshot(decoder.Senders),
            ArtSyncSenders = _artSync.Snapshot(),
            Pollers = decoder.Nodes.Pollers(),
            Network = _network.Snapshot(),
            ArtPolls = Sum(events, LinkEventKind.ArtPoll),
            ArtSyncs = Sum(events, LinkEventKind.ArtSync),
            OtherOpCodes = ByFigure(events, LinkEventKind.ArtOther),
            SyncPackets = ByFigure(events, LinkEventKind.SacnSync),
            Events = events,
            EventsNotListed = _events.NotListed,
            FramesOfUniversesNotListed = decoder.Streams.FramesOfUniversesNotListed,
            FramesOfSendersNotListed = decoder.Streams.FramesOfSendersNotListed,
            Rdm = _rdm.Snapshot(),
            Marks = decoder.Marks.Snapshot(),
            MarksNotListed = decoder.Marks.NotListed,
            First = timed.Min(input => input.First),
            Last = timed.Max(input => input.Last),
            Findings = [],
        };
        return snapshot with { Findings = SurveyRules.Judge(snapshot) };
    }

    // Until when a stream could have been heard: of several inputs, only those that ran when it was last heard say so.
    private Timestamp Heard(int stream, Timestamp last, RecordDecoder decoder, IReadOnlyList<InputSummary> inputs)
    {
        if (inputs.Count < 2)
        {
            return _now;
        }

        UniverseId universe = decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream));
        if (universe.Protocol == UniverseProtocol.Line && decoder.Lines.Snapshot().FirstOrDefault(line => line.Line == universe) is { } own)
        {
            return own.First + own.Length;
        }

        Timestamp? end = inputs.Where(input => input.First <= last && input.Last >= last).Max(input => input.Last);
        return end is Timestamp its && its < inputs.Max(input => input.Last) ? its : _now;
    }

    // Whether the capture itself did not listen lately, so that nobody can say that the sender is silent.
    private bool WasDeaf(Timestamp since, UniverseProtocol protocol) =>
        _deafUntil >= since && _now - _deafUntil <= ProtocolTimes.LossOf(protocol);

    private static long Sum(IReadOnlyList<EventCount> events, LinkEventKind kind) =>
        events.Where(count => count.Kind == kind).Sum(count => count.Count);

    private static List<CountOf> ByFigure(IReadOnlyList<EventCount> events, LinkEventKind kind) =>
    [
        .. events.Where(count => count.Kind == kind)
            .GroupBy(count => count.A)
            .OrderBy(group => group.Key)
            .Select(group => new CountOf((int)group.Key, group.Sum(count => count.Count))),
    ];

    private List<UniverseSummary> Universes(RecordDecoder decoder, IReadOnlyList<InputSummary> inputs)
    {
        StreamTable streams = decoder.Streams;
        List<StreamSummary>[] byUniverse = new List<StreamSummary>[streams.UniverseCount];
        for (int stream = 0; stream < streams.Count; stream++)
        {
            if (Describe(stream, decoder, inputs) is StreamSummary summary)
            {
                (byUniverse[streams.UniverseIndexOf(stream)] ??= []).Add(summary);
            }
        }

        List<UniverseSummary> universes = [];
        for (int index = 0; index < byUniverse.Length; index++)
        {
            if (byUniverse[index] is List<StreamSummary> senders)
            {
                UniverseId id = streams.Universe(index);
                UniverseArbitration? decided = _arbitration.Snapshot(index);
                universes.Add(new UniverseSummary
                {
                    Id = id,
                    Frames = senders.Sum(sender => sender.Frames),
                    SlotCounts = Together(senders.SelectMany(sender => sender.SlotCounts)),
                    Streams = senders,
                    Obeyed = decided?.Obeyed ?? [],
                    ObeyedNotListed = decided?.ObeyedNotListed ?? 0,
                    Arbitration = decided,
                });
            }
        }

        return [.. universes.OrderBy(universe => universe.Id).Select(universe => universe with { Obeyed = _deafness.Without(Within(universe, decoder, inputs), ProtocolTimes.LossOf(universe.Id.Protocol)) })];
    }

    // Beside other inputs a line recording says nothing of what came after its own end.
    private static IReadOnlyList<ObeyedSpan> Within(UniverseSummary universe, RecordDecoder decoder, IReadOnlyList<InputSummary> inputs)
    {
        if (inputs.Count < 2 || universe.Id.Protocol != UniverseProtocol.Line || decoder.Lines.Snapshot().FirstOrDefault(line => line.Line == universe.Id) is not { } own)
        {
            return universe.Obeyed;
        }

        Timestamp end = own.First + own.Length;
        return [.. universe.Obeyed.Where(span => span.From < end).Select(span => span with { To = span.To < end ? span.To : end })];
    }

    private static List<CountOf> Together(IEnumerable<CountOf> counts) =>
    [
        .. counts.GroupBy(count => count.Value)
            .OrderBy(group => group.Key)
            .Select(group => new CountOf(group.Key, group.Sum(count => count.Count))),
    ];

    private StreamSummary? Describe(int stream, RecordDecoder decoder, IReadOnlyList<InputSummary> inputs)
    {
        if (_presence.Snapshot(stream) is not PresenceSnapshot presence)
        {
            return null;
        }

        LevelSnapshot levels = _levels.Snapshot(stream);
        ArrivalSnapshot arrivals = _arrivals.Snapshot(stream);
        SenderSummary sender = decoder.Senders.Describe(decoder.Streams.SenderOf(stream));
        double seconds = arrivals.Present.TotalSeconds;
        bool isSacn = sender.Protocol == UniverseProtocol.Sacn;
        return new StreamSummary
        {
            Sender = sender,
            First = presence.First,
            Last = presence.Last,
            FirstRecord = presence.FirstRecord,
            Frames = presence.Frames,
            LevelFrames = levels.Frames,
            RateHz = seconds > 0 ? arrivals.PresentIntervals / seconds : null,
            RunningHz = arrivals.RunningIntervals > 0 ? arrivals.RunningIntervals / arrivals.Running.TotalSeconds : null,
            RunningIntervals = arrivals.RunningIntervals,
            ChangedHz = seconds > 0 ? levels.Changes / seconds : null,
            ChangedFrames = levels.Changes,
            MovedSlots = levels.MovedSlots,
            SlotsUp = levels.SlotsUp,
            KeepAlive = levels.KeepAlive?.Median,
            KeepAliveIntervals = levels.KeepAlive,
            Intervals = arrivals.Intervals,
            IntervalBars = arrivals.Bars,
            LongestSilenceFrom = arrivals.LongestFrom,
            Sequence = _sequences.Snapshot(stream),
            Priorities = isSacn ? presence.Priorities : [],
            PrioritiesNotListed = isSacn ? presence.PrioritiesNotListed : 0,
            SlotCounts = levels.SlotCounts,
            StartCodes = presence.StartCodes,
            Terminations = presence.Terminations,
            Terminated = arrivals.Terminated,
            Silent = !arrivals.Terminated && Heard(stream, presence.Last, decoder, inputs) - presence.Last > ProtocolTimes.LossOf(sender.Protocol) && !WasDeaf(presence.Last, sender.Protocol),
            Returns = arrivals.Returns,
            PreviewFrames = presence.PreviewFrames,
            DraftFrames = presence.DraftFrames,
            CutFrames = presence.CutFrames,
            SyncAddresses = presence.SyncAddresses,
            Paths = decoder.Paths.Of(stream),
            UnicastFrames = presence.UnicastFrames,
            BroadcastFrames = presence.BroadcastFrames,
            OtherPortFrames = presence.OtherPortFrames,
            Spread = arrivals.Spread,
            RunsIntoKeepAlive = levels.Runs,
            ShortRunsIntoKeepAlive = levels.ShortRuns,
            FollowsOverUniverses = _network.FollowsOverUniverses(stream),
            Repeats = _network.Repeats(stream),
            Bursts = _network.Bursts(stream),
            SecondInstances = decoder.Streams.SecondInstancesOf(stream),
        };
    }
}
