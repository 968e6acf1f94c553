using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Ask;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>locate</c>: capture, sheet, charts and trace in, result and answer out.</summary>
internal sealed class LocateRun
{
    private const int MostOffered = 8;

    private LocateRun(LocateResult result, LocateCase about, LocateAnswer answer, UniverseMap map, SurveySnapshot survey)
    {
        Result = result;
        About = about;
        Answer = answer;
        Map = map;
        Survey = survey;
    }

    /// <summary>What the inference found.</summary>
    public LocateResult Result { get; }

    /// <summary>What it is about.</summary>
    public LocateCase About { get; }

    /// <summary>The answer in words.</summary>
    public LocateAnswer Answer { get; }

    /// <summary>Which universe of the wire each universe of the sheet is.</summary>
    public UniverseMap Map { get; }

    /// <summary>The survey of the same capture.</summary>
    public SurveySnapshot Survey { get; }

    /// <summary>The guided questions; null where none were asked.</summary>
    public AskSession? Session { get; private init; }

    /// <summary>What the caller is told.</summary>
    public int ExitCode => Answer.IsClaim
        ? Answer.AsTheSheetSays ? Cli.ExitCode.Clean : Cli.ExitCode.FaultsFound
        : Cli.ExitCode.NotEnoughEvidence;

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="patch">The sheet.</param>
    /// <param name="charts">The charts.</param>
    /// <param name="asked">What was asked.</param>
    /// <param name="trace">The text of the trace; null = there is none.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">The unit, its chart, the map or the trace does not serve; one sentence.</exception>
    public static LocateRun Of(
        ICaptureSource source, PatchSheet patch, ChartSet charts, LocateAsked asked, TextReader? trace, CancellationToken stop)
    {
        PatchUnit unit = UnitOf(patch, asked.Unit);
        List<ChartMode> modes = LightModes(charts, unit, asked.Mode);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        SlotHistoryAnalyzer keeper = new() { StartFrom = () => decoder.FirstRecord };
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, keeper), stop);
        stop.ThrowIfCancellationRequested();
        IReadOnlyList<SlotHistory> histories = keeper.Snapshot();
        if (histories.Count == 0 || survey.First is not Timestamp first || survey.Last is not Timestamp last)
        {
            throw new UsageException($"{source.Name}: no Art-Net or sACN levels in this capture, so nothing can be compared with the light; capture where the lighting network passes");
        }

        LightTrace? light = trace is null ? null : Light(trace, asked, histories, first, last);
        UniverseMap map = SheetOptions.MapFor(asked.Map, patch, survey);
        LocateCase about = CaseOf(patch, charts, unit, modes, light, histories, map, survey, asked.Uid);
        if (asked.Uid is RdmUid told && about.Question.Reports.Count == 0)
        {
            throw new UsageException($"--uid: no RDM device {told} tells its start address on a captured universe; leave --uid out, or capture while an RDM controller asks it");
        }

        // A trace by itself needs no account of what contributed; with a report of a device there are two.
        if (asked.Also is not null || about.Question.Reports.Count > 0)
        {
            return OfAll(about, asked.Also ?? AskAsked.Nothing, map, survey, first);
        }

        LocateResult result = LocateInference.Run(about.Question);
        return new LocateRun(result, about, LocateNarrator.Answer(result, about), map, survey);
    }

    /// <summary>The modes that a unit may be in, the sheet's first.</summary>
    /// <exception cref="UsageException">Its chart is not there, or gives no light.</exception>
    internal static List<ChartMode> LightModes(ChartSet charts, PatchUnit unit, string? only)
    {
        List<ChartMode> modes = ModesOf(charts, unit, only);
        return modes.Any(GivesLight) ? modes
            : throw new UsageException($"{unit.Unit}: the chart of '{unit.Type}' has no intensity, shutter or colour, so a reading of its light cannot locate it; compare its slots in 'explain', or locate a light beside it");
    }

    /// <summary>What it is about: what was captured, with all that the sheet and RDM say of it.</summary>
    internal static LocateCase CaseOf(
        PatchSheet patch, ChartSet charts, PatchUnit unit, List<ChartMode> modes, LightTrace? light, IReadOnlyList<SlotHistory> histories, UniverseMap map, SurveySnapshot survey, RdmUid? uid)
    {
        LocateQuestion question = new(
            histories,
            light,
            modes,
            Others(patch, charts, unit, histories, map),
            Prior(patch, charts, unit, modes, histories, map))
        {
            Reports = Analysis.Rdm.RdmDeviceReport.For(survey.Rdm, patch, charts, unit, modes, [.. histories.Select(history => history.Universe)], map.Wire, uid),
        };
        return new LocateCase(question, patch, charts, unit, [.. histories.Select(history => SheetNumber(map, history.Universe))]);
    }

    private static LocateRun OfAll(LocateCase about, AskAsked also, UniverseMap map, SurveySnapshot survey, Timestamp first)
    {
        LocateGathered gathered = LocateGathered.Of(about, map);
        WallClock clock = new(also.Zone, survey.First, survey.Last);
        gathered.Show(clock.Time);
        gathered.Shared = SharedUniverses.Of(survey);
        foreach (string name in also.Log is { Exists: true } log ? also.Notes.Append(log.Path) : also.Notes)
        {
            using StreamReader text = TextFile.Open(name);
            gathered.AddNotes(text, name, also.Zone, first, name == also.Log?.Path);
        }

        if (also.Taps is { Taps.Count: > 0 } keys)
        {
            gathered.Posterior.Add(TapEvidence.Of(gathered.Rig.Space, gathered.Histories, keys.Taps, keys.Begun));
        }

        AskSession? session = also.Questions?.Invoke(gathered);
        LocateResult result = gathered.Judge();
        return new LocateRun(result, about, AskNarrator.Answer(result, about, session, gathered.Rig), map, survey) { Session = session };
    }

    private static LightTrace Light(TextReader trace, LocateAsked asked, IReadOnlyList<SlotHistory> histories, Timestamp first, Timestamp last)
    {
        TraceReading reading = TraceReader.Read(trace, first, last, asked.Region);
        if (reading.Trace is not LightTrace light)
        {
            throw new UsageException($"{asked.TraceName}: {reading.Problem}");
        }

        RequireOverlap(histories, light, asked.TraceName!);
        return light;
    }

    // A capture may go on long after its last levels: the trace must meet levels, not merely the capture.
    private static void RequireOverlap(IReadOnlyList<SlotHistory> histories, LightTrace light, string traceName)
    {
        int shared = LocateInference.Overlap(histories, light);
        if (shared < LocateInference.FewestSamples)
        {
            double seconds = Math.Floor(10.0 * shared / SlotHistory.RatePerSecond) / 10;
            throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"{traceName}: the trace and the captured levels share too little time: expected at least {LocateInference.FewestSamples / SlotHistory.RatePerSecond} s, found {seconds:0.0} s; record both at once, 30 s or more, while the controller sends"));
        }
    }

    /// <summary>The unit a person named.</summary>
    /// <param name="patch">The sheet.</param>
    /// <param name="name">The name as typed.</param>
    /// <param name="option">The option it was typed after, or the place in a file.</param>
    /// <exception cref="UsageException">The sheet has none of that name, or several: then it is asked which.</exception>
    internal static PatchUnit UnitOf(PatchSheet patch, string name, string option = "--unit")
    {
        IReadOnlyList<PatchUnit> found = patch.FindAll(name);
        if (found.Count > 1)
        {
            string places = string.Join(", ", found.Take(MostOffered).Select(unit => string.Create(CultureInfo.InvariantCulture, $"line {unit.Line} ({unit.Universe}.{unit.Address:000})")));
            throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"the sheet has {found.Count} units '{found[0].Unit}': {places}{(found.Count > MostOffered ? " and more" : "")}; say which with its line, as in '{found[0].Unit} line {found[0].Line}', or give each a name of its own"));
        }

        if (found.Count == 1)
        {
            return found[0];
        }

        IReadOnlyList<string> nearest = patch.NearestNames(name, 3);
        string offer = nearest.Count > 0
            ? "; did you mean " + string.Join(" or ", nearest.Select(near => $"'{near}'")) + "?"
            : $"; check the name after {option}";
        throw new UsageException($"the sheet has no unit '{name}'{offer}");
    }

    // The sheet's mode first, then the other modes of its type: a wrong mode is as common as a wrong address.
    internal static List<ChartMode> ModesOf(ChartSet charts, PatchUnit unit, string? only)
    {
        Chart chart = charts.Find(unit.Type)
            ?? throw new UsageException($"there is no chart of type '{unit.Type}', which the sheet gives for '{unit.Unit}'; put {unit.Type}.csv among the charts or name their folder with --charts");
        string wanted = only ?? unit.Mode;
        ChartMode sheet = charts.Find(unit.Type, wanted)
            ?? throw new UsageException(
                $"the chart '{unit.Type}' has no mode '{wanted}'; it has {string.Join(", ", chart.Modes.Select(mode => $"'{mode.Name}'"))}");
        return only is null ? [sheet, .. chart.Modes.Where(mode => mode != sheet)] : [sheet];
    }

    internal static int SheetNumber(UniverseMap map, UniverseId universe)
    {
        foreach ((int sheet, UniverseId wire) in map.Wire)
        {
            if (wire == universe)
            {
                return sheet;
            }
        }

        return -1;
    }

    internal static List<OtherUnit> Others(
        PatchSheet patch, ChartSet charts, PatchUnit unit, IReadOnlyList<SlotHistory> histories, UniverseMap map)
    {
        List<OtherUnit> others = [];
        foreach (PatchUnit other in patch.Units.Where(each => each != unit))
        {
            if (charts.Find(other.Type, other.Mode) is ChartMode mode
                && map.Wire.TryGetValue(other.Universe, out UniverseId universe))
            {
                int history = IndexOf(histories, universe).DefaultIfEmpty(-1).First();
                if (history >= 0)
                {
                    others.Add(new OtherUnit(other.Unit, history, other.Address, mode));
                }
            }
        }

        return others;
    }

    internal static List<PriorCandidate> Prior(
        PatchSheet patch,
        ChartSet charts,
        PatchUnit unit,
        List<ChartMode> modes,
        IReadOnlyList<SlotHistory> histories,
        UniverseMap map)
    {
        int footprint = charts.FootprintOf(unit.Type, unit.Mode);
        string[] others = [.. modes.Select(mode => mode.Name).Where(name => name != unit.Mode)];
        List<PriorCandidate> prior = [];
        foreach (AddressCandidate candidate in HumanErrors.Candidates(unit, footprint, patch, others))
        {
            int mode = modes.FindIndex(each => each.Name.Equals(candidate.Mode ?? unit.Mode, StringComparison.OrdinalIgnoreCase));
            if (mode < 0 || WireOf(candidate.Universe, unit, map) is not UniverseId universe)
            {
                continue;
            }

            bool asTheSheetSays = candidate.Universe == unit.Universe && candidate.Address == unit.Address && candidate.Mode is null;
            foreach (int history in IndexOf(histories, universe))
            {
                prior.Add(new PriorCandidate(
                    new Hypothesis(history, candidate.Address, mode), candidate.Weight, asTheSheetSays ? "" : candidate.Explanation)
                {
                    OtherErrors = asTheSheetSays ? [] : [.. candidate.Explanations.Skip(1)],
                });
            }
        }

        return prior;
    }

    // A universe that is not on the sheet lies as far from the unit's on the wire as it does in the sheet's numbering.
    private static UniverseId? WireOf(int sheetUniverse, PatchUnit unit, UniverseMap map)
    {
        if (map.Wire.TryGetValue(sheetUniverse, out UniverseId known))
        {
            return known;
        }

        return map.Wire.TryGetValue(unit.Universe, out UniverseId own) && own.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet
            ? own with { Number = own.Number + sheetUniverse - unit.Universe }
            : null;
    }

    private static IEnumerable<int> IndexOf(IReadOnlyList<SlotHistory> histories, UniverseId universe) =>
        Enumerable.Range(0, histories.Count).Where(index => histories[index].Universe == universe);

    internal static bool GivesLight(ChartMode mode) => mode.Slots.Any(slot => slot.Role
        is SlotRole.Intensity or SlotRole.Shutter or SlotRole.Red or SlotRole.Green or SlotRole.Blue
        or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet or SlotRole.OtherEmitter);
}
