using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>Everything the survey knows; immutable.</summary>
public sealed record SurveySnapshot
{
    /// <summary>The inputs.</summary>
    public required IReadOnlyList<InputSummary> Inputs { get; init; }

    /// <summary>Whether an input was not read to its end.</summary>
    public bool IsCut => Inputs.Any(input => input.Cut is not null);

    /// <summary>The universes, by protocol and number.</summary>
    public required IReadOnlyList<UniverseSummary> Universes { get; init; }

    /// <summary>Channels of line recordings and what was made of each; empty without one.</summary>
    public IReadOnlyList<LineChannelSummary> Lines { get; init; } = [];

    /// <summary>Times measured on lines, held against the limits of each packet's START code; empty without a line.</summary>
    public IReadOnlyList<TimingMeasurement> LineFigures { get; init; } = [];

    /// <summary>Devices that sent ArtPollReply, by address.</summary>
    public required IReadOnlyList<NodeSummary> Nodes { get; init; }

    /// <summary>What sACN sources say they send.</summary>
    public required IReadOnlyList<DiscoverySummary> Discovery { get; init; }

    /// <summary>sACN synchronization addresses, by number: who sends for them and who waits.</summary>
    public IReadOnlyList<SynchronizationSummary> Synchronization { get; init; } = [];

    /// <summary>Who sends ArtSync.</summary>
    public IReadOnlyList<ArtSyncSummary> ArtSyncSenders { get; init; } = [];

    /// <summary>Who sends ArtPoll.</summary>
    public IReadOnlyList<PollerSummary> Pollers { get; init; } = [];

    /// <summary>The network itself: groups, addresses, fragments.</summary>
    public NetworkSummary Network { get; init; } = NetworkSummary.Empty;

    /// <summary>ArtPoll packets seen.</summary>
    public long ArtPolls { get; init; }

    /// <summary>ArtSync packets seen.</summary>
    public long ArtSyncs { get; init; }

    /// <summary>Other Art-Net packets by OpCode.</summary>
    public IReadOnlyList<CountOf> OtherOpCodes { get; init; } = [];

    /// <summary>sACN synchronization packets by address.</summary>
    public IReadOnlyList<CountOf> SyncPackets { get; init; } = [];

    /// <summary>What else happened, counted by kind, sender and universe, in the order of first appearance.</summary>
    public IReadOnlyList<EventCount> Events { get; init; } = [];

    /// <summary>Events beyond those kept apart.</summary>
    public long EventsNotListed { get; init; }

    /// <summary>Frames of universes beyond those that hold state (4,096).</summary>
    public long FramesOfUniversesNotListed { get; init; }

    /// <summary>Frames of senders beyond those that hold state.</summary>
    public long FramesOfSendersNotListed { get; init; }

    /// <summary>Devices and traffic of RDM; null where none passed.</summary>
    public RdmSnapshot? Rdm { get; init; }

    /// <summary>Marks made while recording, by time.</summary>
    public IReadOnlyList<MarkSummary> Marks { get; init; } = [];

    /// <summary>Marks beyond those kept (4,096).</summary>
    public long MarksNotListed { get; init; }

    /// <summary>Time of the first record; where some inputs have a date and others have none, of those that have one.</summary>
    public Timestamp? First { get; init; }

    /// <summary>Time of the last record, of the same inputs.</summary>
    public Timestamp? Last { get; init; }

    /// <summary>What is wrong or worth knowing, worst first.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }
}
