using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What a diagnosis is asked, besides the capture.</summary>
public sealed record DiagnosisAsked
{
    /// <summary>The sheet; null when there is none.</summary>
    public PatchSheet? Sheet { get; init; }

    /// <summary>The charts; null without a sheet.</summary>
    public ChartSet? Charts { get; init; }

    /// <summary>The units a person calls bad, as the sheet names them.</summary>
    public IReadOnlyList<string> Bad { get; init; } = [];

    /// <summary>What the person said, verbatim; empty when nothing.</summary>
    public string Said { get; init; } = "";

    /// <summary>What locating found, for units whose light was observed.</summary>
    public IReadOnlyList<LocatedUnit> Located { get; init; } = [];

    /// <summary>Two places of one moment, compared; null when there are no two taps.</summary>
    public TwoTaps? Taps { get; init; }

    /// <summary>The universes of the wire that a universe of the sheet may be, before anything is known.</summary>
    public Func<int, IEnumerable<UniverseId>> MayBe { get; init; } = number => [new(UniverseProtocol.Sacn, number)];

    /// <summary>The map of universes once it is known what was captured: what is known, and what may be several.</summary>
    public Func<IReadOnlyList<UniverseId>, (IReadOnlyDictionary<int, UniverseId> Wire, IReadOnlyList<int> Unclear)> Map { get; init; } =
        _ => (new Dictionary<int, UniverseId>(), []);
}
