using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare;

/// <summary>The start and the far end of one line, packet by packet.</summary>
public sealed record SegmentComparison
{
    /// <summary>The start.</summary>
    public required UniverseId Start { get; init; }

    /// <summary>The far end.</summary>
    public required UniverseId End { get; init; }

    /// <summary>False where too few changes agree to lay one over the other: another line, or levels that never change.</summary>
    public bool IsAligned { get; init; }

    /// <summary>Packets at the start that were looked for at the far end.</summary>
    public long Packets { get; init; }

    /// <summary>Packets whole at the start and absent at the far end.</summary>
    public long Missing { get; init; }

    /// <summary>Packets whole at the start and damaged at the far end (framing errors, lost characters).</summary>
    public long DamagedAtEnd { get; init; }

    /// <summary>Packets damaged already at the start.</summary>
    public long DamagedAtStart { get; init; }

    /// <summary>Packets whole at both ends with other slots at the far end.</summary>
    public long Different { get; init; }

    /// <summary>How often each slot differed, the worst first, at most 16; slot 1 is 1.</summary>
    public IReadOnlyList<CountOf> DifferingSlots { get; init; } = [];

    /// <summary>Share of packets that were whole at the start and are not at the far end.</summary>
    public double LostOnTheWay => Packets == 0 ? 0 : (double)(Missing + DamagedAtEnd + Different) / Packets;
}
