using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>One input and how whole it was.</summary>
public sealed record InputSummary
{
    /// <summary>The input as the person named it; untrusted text.</summary>
    public required string Name { get; init; }

    /// <summary>Records read.</summary>
    public required long Records { get; init; }

    /// <summary>Time of the first record; null when there was none.</summary>
    public Timestamp? First { get; init; }

    /// <summary>Time of the last record; null when there was none.</summary>
    public Timestamp? Last { get; init; }

    /// <summary>Whether it does not say when it was made, as a line recording need not: its times count from 0, on no clock that others are on.</summary>
    public bool IsUndated => First is { UnixNanoseconds: >= 0 and < 86_400_000_000_000 };

    /// <summary>Lighting packets whose bytes contradict their own layout.</summary>
    public long Malformed { get; init; }

    /// <summary>Packets that the snap length cut before their fields could be read, or whose slots it cut.</summary>
    public long CutBySnapLength { get; init; }

    /// <summary>Fragments of IP datagrams to or from a lighting port (first fragments only are known by port).</summary>
    public long Fragments { get; init; }

    /// <summary>Records that the capture says it lost.</summary>
    public long LostByCapture { get; init; }

    /// <summary>Records that are no Art-Net and no sACN.</summary>
    public long OtherTraffic { get; init; }

    /// <summary>Why the input ended early, as one sentence; null when it is whole.</summary>
    public InputProblem? Cut { get; init; }

    /// <summary>Its interfaces.</summary>
    public IReadOnlyList<CaptureInterface> Interfaces { get; init; } = [];

    /// <summary>What its reader had to take for granted, a sentence each; untrusted text.</summary>
    public IReadOnlyList<string> Assumptions { get; init; } = [];

    /// <summary>What the input says about itself, one sentence each.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}
