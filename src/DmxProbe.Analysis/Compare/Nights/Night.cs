using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>What is kept of a night to hold it against another.</summary>
public sealed class Night
{
    internal Night(IReadOnlyList<NightStream> streams, IReadOnlyList<NightChange> changes, Timestamp last, bool isWhole)
    {
        Streams = streams;
        Changes = changes;
        Last = last;
        IsWhole = isWhole;
    }

    /// <summary>The streams, by universe.</summary>
    public IReadOnlyList<NightStream> Streams { get; }

    /// <summary>How many cues the wire shows.</summary>
    public int CueCount => Changes.Count;

    /// <summary>The cues that the wire shows, in order.</summary>
    public IReadOnlyList<NightCue> Cues => [.. Changes.Select((change, index) => new NightCue(index + 1, change.At, change.Settled, change.Slots))];

    /// <summary>False where there was more than is kept: only the first part is compared.</summary>
    public bool IsWhole { get; }

    /// <summary>The cues, in order.</summary>
    internal IReadOnlyList<NightChange> Changes { get; }

    /// <summary>The last moment heard.</summary>
    internal Timestamp Last { get; }

    /// <summary>How long the look after a cue stood.</summary>
    internal Duration Held(int change) =>
        (change + 1 < Changes.Count ? Changes[change + 1].At : Last) - Changes[change].Settled;
}
