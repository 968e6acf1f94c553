using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>All that is at hand for a diagnosis.</summary>
public sealed class DiagnosisCase
{
    private readonly Dictionary<string, UnitActivity> _byName = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, UniverseId> _byLabel = new(StringComparer.Ordinal);

    /// <summary>Makes a case.</summary>
    /// <param name="survey">The survey of the inputs, with its findings.</param>
    /// <param name="units">The units of the sheet with what they were told; empty without a sheet.</param>
    public DiagnosisCase(SurveySnapshot survey, IReadOnlyList<UnitActivity> units)
    {
        ArgumentNullException.ThrowIfNull(survey);
        ArgumentNullException.ThrowIfNull(units);
        Survey = survey;
        Units = units;
        foreach (UnitActivity unit in units)
        {
            _byName.TryAdd(unit.Watched.Unit.Unit, unit);
        }

        foreach (UniverseSummary universe in survey.Universes)
        {
            _byLabel[universe.Id.Label] = universe.Id;
        }
    }

    /// <summary>The survey.</summary>
    public SurveySnapshot Survey { get; }

    /// <summary>The units of the sheet, in its order.</summary>
    public IReadOnlyList<UnitActivity> Units { get; }

    /// <summary>What every stream of levels did, by universe; the sender that has the say longest comes first.</summary>
    public IReadOnlyDictionary<UniverseId, IReadOnlyList<StreamActivity>> Streams { get; init; } = new Dictionary<UniverseId, IReadOnlyList<StreamActivity>>();

    /// <summary>The sheet; null when there is none.</summary>
    public PatchSheet? Sheet { get; init; }

    /// <summary>The charts; null without a sheet.</summary>
    public ChartSet? Charts { get; init; }

    /// <summary>What the sheet itself has wrong.</summary>
    public IReadOnlyList<PatchFinding> SheetFindings { get; init; } = [];

    /// <summary>By sheet universe, what it is on the wire.</summary>
    public IReadOnlyDictionary<int, UniverseId> Wire { get; init; } = new Dictionary<int, UniverseId>();

    /// <summary>Sheet universes that could be more than one universe of the wire.</summary>
    public IReadOnlyList<int> UnclearUniverses { get; init; } = [];

    /// <summary>The units a person calls bad, as the sheet names them; empty when nobody did.</summary>
    public IReadOnlyList<string> Bad { get; init; } = [];

    /// <summary>What the person said, verbatim; empty when nothing.</summary>
    public string Said { get; init; } = "";

    /// <summary>What locating found, for units whose light was observed.</summary>
    public IReadOnlyList<LocatedUnit> Located { get; init; } = [];

    /// <summary>Two places of one moment, compared; null when there are no two taps.</summary>
    public TwoTaps? Taps { get; init; }

    /// <summary>What RDM devices say against the sheet; null without RDM or without a sheet.</summary>
    public RdmSheetResult? RdmSheet { get; init; }

    /// <summary>What is at hand.</summary>
    public CauseInputs Inputs
    {
        get
        {
            CauseInputs found = CauseInputs.None;
            found |= Survey.Universes.Any(universe => IsNetwork(universe.Id)) || Survey.Nodes.Count > 0 || Survey.Discovery.Count > 0 || HasNetworkInterface ? CauseInputs.Network : 0;
            found |= Survey.Lines.Count > 0 ? CauseInputs.Line : 0;
            found |= Survey.Universes.Any(universe => universe.Id.Protocol == UniverseProtocol.Serial) ? CauseInputs.Serial : 0;
            found |= Sheet is not null ? CauseInputs.Sheet : 0;
            found |= Bad.Count > 0 ? CauseInputs.BadUnits : 0;
            found |= Located.Count > 0 ? CauseInputs.Light : 0;
            found |= Taps is not null ? CauseInputs.TwoTaps : 0;
            found |= Survey.Rdm is { Devices.Count: > 0 } ? CauseInputs.Rdm : 0;
            found |= found.HasFlag(CauseInputs.Network) || Wire.Values.Any(wire => !IsNetwork(wire) && Summary(wire) is not null) ? CauseInputs.Levels : 0;
            return found;
        }
    }

    /// <summary>How long the inputs are; zero where they have no records.</summary>
    public Duration Length => Survey.First is Timestamp first && Survey.Last is Timestamp last ? last - first : Duration.Zero;

    /// <summary>How long the longest network capture among the inputs is; zero where none has records.</summary>
    public Duration NetworkLength => Survey.Inputs.Where(IsOfNetwork).Select(input => input is { First: Timestamp first, Last: Timestamp last } ? last - first : Duration.Zero)
        .DefaultIfEmpty(Length).Max();

    /// <summary>Whether a network was captured for so short a time that nothing is said of what is absent.</summary>
    public bool IsTooShort => Inputs.HasFlag(CauseInputs.Network) && NetworkLength.TotalSeconds < Sufficiency.LeastSeconds;

    /// <summary>The universe that a label names; null when none has it.</summary>
    public UniverseId? UniverseOf(string label) => _byLabel.TryGetValue(label, out UniverseId id) ? id : null;

    /// <summary>A unit by its name; null when the sheet has none of that name.</summary>
    public UnitActivity? Unit(string name) => _byName.GetValueOrDefault(name);

    /// <summary>The units called bad, with what they were told.</summary>
    public IEnumerable<UnitActivity> BadUnits => Bad.Select(Unit).OfType<UnitActivity>();

    /// <summary>Whether a unit is called bad.</summary>
    public bool IsBad(string unit) => Bad.Contains(unit, StringComparer.OrdinalIgnoreCase);

    /// <summary>The units on a universe of the wire.</summary>
    public IEnumerable<UnitActivity> UnitsOn(UniverseId universe) => Units.Where(unit => unit.Universe == universe);

    /// <summary>The summary of a universe of the wire; null when it was not there.</summary>
    public UniverseSummary? Summary(UniverseId? universe) => Survey.Universes.FirstOrDefault(known => known.Id == universe);

    private static bool IsNetwork(UniverseId id) => id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet;

    private bool HasNetworkInterface => Survey.Inputs.Any(IsOfNetwork);

    private static bool IsOfNetwork(InputSummary input) => input.Interfaces.Any(face => face.LinkType != LinkType.None);
}
