using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Universes;

/// <summary>What <see cref="PresenceAnalyzer"/> knows of one sender on one universe. Members as in <see cref="StreamSummary"/>.</summary>
public sealed record PresenceSnapshot
{
    /// <summary>First frame.</summary>
    public required Timestamp First { get; init; }

    /// <summary>Last frame.</summary>
    public required Timestamp Last { get; init; }

    /// <summary>Record of the first frame.</summary>
    public required long FirstRecord { get; init; }

    /// <summary>Frames of every START code.</summary>
    public required long Frames { get; init; }

    /// <summary>Frames by START code.</summary>
    public required IReadOnlyList<CountOf> StartCodes { get; init; }

    /// <summary>Priorities over time.</summary>
    public required IReadOnlyList<PrioritySpan> Priorities { get; init; }

    /// <summary>Changes of priority beyond those listed.</summary>
    public required long PrioritiesNotListed { get; init; }

    /// <summary>Packets with Stream_Terminated.</summary>
    public required long Terminations { get; init; }

    /// <summary>Preview frames.</summary>
    public required long PreviewFrames { get; init; }

    /// <summary>Frames in the draft's layout.</summary>
    public required long DraftFrames { get; init; }

    /// <summary>Frames cut by the snap length.</summary>
    public required long CutFrames { get; init; }

    /// <summary>Frames to one receiver only; see <see cref="FrameFlags.Unicast"/>.</summary>
    public required long UnicastFrames { get; init; }

    /// <summary>Frames to every host.</summary>
    public required long BroadcastFrames { get; init; }

    /// <summary>Frames from or to another UDP port than the protocol's.</summary>
    public required long OtherPortFrames { get; init; }

    /// <summary>Synchronization addresses asked for.</summary>
    public required IReadOnlyList<int> SyncAddresses { get; init; }
}
