using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>One sACN synchronization address: who sends synchronization for it, and who waits for it.</summary>
public sealed record SynchronizationSummary
{
    /// <summary>The synchronization address.</summary>
    public required int Address { get; init; }

    /// <summary>Synchronization packets seen.</summary>
    public required long Packets { get; init; }

    /// <summary>Their senders, in order of appearance, at most eight.</summary>
    public required IReadOnlyList<SenderSummary> Senders { get; init; }

    /// <summary>Times a second sender sent for the address within 2.5 s of another.</summary>
    public long Disputes { get; init; }

    /// <summary>Synchronization packets missing by their own sequence numbers.</summary>
    public long Lost { get; init; }

    /// <summary>Synchronization packets that repeat a number or come after a later one: receivers discard them.</summary>
    public long Discarded { get; init; }

    /// <summary>Level frames that ask for the address.</summary>
    public long Frames { get; init; }

    /// <summary>Universes of those frames, in order of appearance, at most sixteen.</summary>
    public IReadOnlyList<int> Universes { get; init; } = [];

    /// <summary>Level frames without Force_Synchronization more than 2.5 s after the last synchronization packet.</summary>
    public long FrozenFrames { get; init; }

    /// <summary>When the first of those froze: 2.5 s after the last synchronization packet before.</summary>
    public Timestamp FrozenFrom { get; init; }

    /// <summary>Time of the last of those.</summary>
    public Timestamp FrozenTo { get; init; }

    /// <summary>Record of the first of those.</summary>
    public long FrozenRecord { get; init; }

    /// <summary>Level frames with Force_Synchronization more than 2.5 s after the last synchronization packet.</summary>
    public long ForcedFrames { get; init; }

    /// <summary>When the first packet or frame for the address came.</summary>
    public Timestamp First { get; init; }

    /// <summary>When the last did.</summary>
    public Timestamp Last { get; init; }

    /// <summary>Record of the first.</summary>
    public long FirstRecord { get; init; }
}
