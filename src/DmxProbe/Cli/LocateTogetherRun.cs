using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>locate --units</c>: several units and regions of one trace at once.</summary>
internal sealed class LocateTogetherRun
{
    private LocateTogetherRun(TogetherResult result, IReadOnlyList<LocateCase> cases, UniverseMap map, IReadOnlyList<string> leftOut)
    {
        Result = result;
        Cases = cases;
        Map = map;
        LeftOut = leftOut;
        Answers = [.. result.Units.Select((unit, i) => LocateNarrator.Answer(unit.Result, cases[i]))];
        Statements = RowNarrator.Statements(result, cases);
    }

    /// <summary>What was found.</summary>
    public TogetherResult Result { get; }

    /// <summary>What each unit is about, in the order of the result.</summary>
    public IReadOnlyList<LocateCase> Cases { get; }

    /// <summary>The answer for each unit.</summary>
    public IReadOnlyList<LocateAnswer> Answers { get; }

    /// <summary>What they have in common.</summary>
    public IReadOnlyList<RowStatement> Statements { get; }

    /// <summary>Which universe of the wire each universe of the sheet is.</summary>
    public UniverseMap Map { get; }

    /// <summary>Units asked for whose light says nothing, a sentence each.</summary>
    public IReadOnlyList<string> LeftOut { get; }

    /// <summary>What the caller is told: a fault anywhere, else open questions, else clean.</summary>
    public int ExitCode =>
        Statements.Any(statement => statement.Finding.Kind != RowFindingKind.Alike) || Answers.Any(answer => answer.IsClaim && !answer.AsTheSheetSays) ? Cli.ExitCode.FaultsFound
        : Answers.All(answer => answer.IsClaim) && LeftOut.Count == 0 ? Cli.ExitCode.Clean : Cli.ExitCode.NotEnoughEvidence;

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="patch">The sheet.</param>
    /// <param name="charts">The charts.</param>
    /// <param name="units">The list after --units.</param>
    /// <param name="traceName">The trace as the person named it.</param>
    /// <param name="map">The map of universes as given; null = find it.</param>
    /// <param name="trace">The text of the trace.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">Units, charts, map or trace do not serve; one sentence.</exception>
    public static LocateTogetherRun Of(
        ICaptureSource source, PatchSheet patch, ChartSet charts, string units, string traceName, string? map, TextReader trace, CancellationToken stop)
    {
        string light = trace.ReadToEnd();
        List<(PatchUnit Unit, string Region)> asked = LocateUnits.Parse(units, patch, TraceReader.Regions(new StringReader(light)), traceName);
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

        UniverseMap universes = SheetOptions.MapFor(map, patch, survey);
        int[] sheetNumbers = [.. histories.Select(history => LocateRun.SheetNumber(universes, history.Universe))];
        List<UnitInRow> rows = [];
        Dictionary<string, LocateCase> cases = new(StringComparer.Ordinal);
        List<string> leftOut = [];
        foreach ((PatchUnit unit, string region) in asked)
        {
            List<ChartMode> modes = LocateRun.ModesOf(charts, unit, null);
            TraceReading reading = TraceReader.Read(new StringReader(light), first, last, region);
            if (!modes.Any(LocateRun.GivesLight))
            {
                leftOut.Add($"{unit.Unit}: the chart of '{unit.Type}' has no intensity, shutter or colour, so its light cannot locate it");
            }
            else if (reading.Trace is not LightTrace seen)
            {
                leftOut.Add($"{unit.Unit}, region '{region}': {reading.Problem}");
            }
            else if (LocateInference.Overlap(histories, seen) < LocateInference.FewestSamples)
            {
                leftOut.Add(string.Create(CultureInfo.InvariantCulture, $"{unit.Unit}, region '{region}': trace and levels share less than {LocateInference.FewestSamples / SlotHistory.RatePerSecond} s"));
            }
            else
            {
                LocateQuestion question = new(
                    histories,
                    seen,
                    modes,
                    LocateRun.Others(patch, charts, unit, histories, universes),
                    LocateRun.Prior(patch, charts, unit, modes, histories, universes));
                rows.Add(new UnitInRow(unit.Unit, unit.Universe, unit.Address, Array.IndexOf(sheetNumbers, unit.Universe), question) { SharesWith = unit.SharesWith });
                cases.Add(unit.Unit, new LocateCase(question, patch, charts, unit, sheetNumbers));
            }
        }

        if (rows.Count == 0)
        {
            throw new UsageException($"{traceName}: no unit can be located from this trace: {leftOut[0]}");
        }

        TogetherResult result = TogetherInference.Run(rows);
        return new LocateTogetherRun(result, [.. result.Units.Select(unit => cases[unit.Unit.Name])], universes, leftOut);
    }
}
