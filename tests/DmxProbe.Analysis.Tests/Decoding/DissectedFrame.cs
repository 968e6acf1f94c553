using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>What a general dissector read in one ArtDmx or E1.31 data packet.</summary>
internal sealed record DissectedFrame
{
    public required long Record { get; init; }

    public required Timestamp Time { get; init; }

    public required UniverseId Universe { get; init; }

    public required string Address { get; init; }

    public required int Sequence { get; init; }

    /// <summary>E1.31 only; null for ArtDmx, as are <see cref="SyncAddress"/>, <see cref="Cid"/> and <see cref="Name"/>.</summary>
    public int? Priority { get; init; }

    public int? SyncAddress { get; init; }

    /// <summary>E1.31 options octet; 0 for ArtDmx.</summary>
    public int Options { get; init; }

    public string? Cid { get; init; }

    public string? Name { get; init; }

    /// <summary>ArtDmx only.</summary>
    public int? Physical { get; init; }

    /// <summary>Slots as the packet states them: ArtDmx Length, or the E1.31 count less its START code.</summary>
    public required int StatedSlots { get; init; }

    /// <summary>Slot 1 first; null where the dissector called the packet malformed and gave none.</summary>
    public byte[]? Slots { get; init; }
}
