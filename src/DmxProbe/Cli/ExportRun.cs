using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;
using DmxProbe.Reporting.Tables;

namespace DmxProbe.Cli;

/// <summary>One run of <c>export</c>: inputs in, one file out, whole or not at all.</summary>
/// <param name="host">The process.</param>
internal sealed class ExportRun(ProgramHost host)
{
    private const string Frames = "frames";
    private const string Changes = "changes";
    private const string Measurements = "measurements";
    private const string Findings = "findings";
    private const string AsFound = "sheet";
    private const string Everything = "everything";
    private const string Csv = "csv";
    private const string Parquet = "parquet";
    private const string AsJson = "json";
    private readonly List<string> _cut = [];

    /// <summary>What can be written.</summary>
    public static IReadOnlyList<string> Tables { get; } = [Frames, Changes, Measurements, Findings, AsFound, Everything];

    /// <summary>The forms.</summary>
    public static IReadOnlyList<string> Forms { get; } = [Csv, Parquet, AsJson];

    /// <summary>The words of the command line.</summary>
    public required IReadOnlyList<string> Inputs { get; init; }

    /// <summary>One of <see cref="Tables"/>.</summary>
    public required string What { get; init; }

    /// <summary>The file to write.</summary>
    public required string File { get; init; }

    /// <summary>One of <see cref="Forms"/>.</summary>
    public required string Form { get; init; }

    /// <summary>The patch sheet, if there is one.</summary>
    public SheetInUse? Sheet { get; init; }

    /// <summary>The map of universes as given.</summary>
    public string? Map { get; init; }

    /// <summary>How to listen.</summary>
    public required LiveAsked Live { get; init; }

    /// <summary>What was said about line recordings.</summary>
    public required LineFileOptions Files { get; init; }

    /// <summary>What was said about lines.</summary>
    public required LineOptions Line { get; init; }

    private bool IsLive => Inputs.Any(Cli.Inputs.IsLive);

    private bool ReadsTwice => What is Everything or AsFound || (What == Changes && Sheet is not null && Map is null);

    /// <summary>The form that the ending of a file says.</summary>
    /// <exception cref="UsageException">It says none.</exception>
    public static string FormOf(string file) => Path.GetExtension(file).ToUpperInvariant() switch
    {
        ".CSV" => Csv,
        ".PARQUET" => Parquet,
        ".JSON" => AsJson,
        _ => throw new UsageException($"-o {file}: the ending says no form; expected .csv, .parquet or .json, or say it with --form"),
    };

    /// <summary>Runs it.</summary>
    /// <exception cref="UsageException">It cannot be written; one sentence.</exception>
    public ExportResult Run()
    {
        Check();
        host.EndsByItself();
        host.SaysOnStop(ProgramHost.NothingWritten);
        using UnfinishedFile file = UnfinishedFile.Begin("-o", File);
        long rows;
        long octets;
        try
        {
            rows = Fill(file.Stream);
            octets = file.Stream.Length;
            if (!IsLive)
            {
                host.Stop.ThrowIfCancellationRequested();
            }

            file.Finish();
        }
        catch (IOException failure)
        {
            throw new UsageException($"{File}: writing failed ({failure.Message.TrimEnd('.')}), and no half file is left; check the disk and its free space");
        }

        return new ExportResult(What, Form, File, rows, octets, [.. _cut.Distinct()]);
    }

    private void Check()
    {
        if (What == Everything && Form != AsJson)
        {
            throw new UsageException($"--what everything has tables of many shapes, which only JSON holds in one file; found the form {Form}: name a .json file, or one table");
        }

        if (What == AsFound && (Sheet is null || Form != Csv))
        {
            throw new UsageException(Sheet is null
                ? "--what sheet is the patch sheet with what was found, and no sheet is given; add --patch"
                : $"--what sheet is a patch sheet, which reads back as CSV only; found the form {Form}: name a .csv file");
        }

        if (Map is not null && Sheet is null)
        {
            throw new UsageException("--map is for the universes of a patch sheet, and no sheet is given; add --patch");
        }

        if (ReadsTwice && (IsLive || Inputs.Contains("-")))
        {
            throw new UsageException(What == Changes
                ? "finding which universe of the sheet is which needs a reading of its own, and this input is read once only; say it with --map, as in --map 1=artnet:0,2=sacn:2"
                : $"--what {What} reads its input more than once, and this input is read once only; record it first, then export the recording");
        }
    }

    private long Fill(Stream output)
    {
        switch (What)
        {
            case Frames:
                return Table(FrameTable.Spec, output, FillFrames);
            case Changes:
                return Table(ChangeTable.Spec, output, FillChanges);
            case Measurements:
                IReadOnlyList<TimedInput> timed = Timed();
                return Table(MeasurementTable.Spec, output, table => MeasurementTable.Write(table, timed));
            case Findings:
                SurveySnapshot found = Survey();
                return Table(FindingTable.Spec, output, table => FindingTable.Write(table, found.Findings));
            case AsFound:
                return WriteSheet(output);
            default:
                SurveySnapshot survey = Survey();
                return EverythingJson.Write(output, survey, Timed(), FillFrames, FillChanges);
        }
    }

    private long Table(TableSpec spec, Stream output, Action<TableWriter> fill)
    {
        using TableWriter table = Form switch
        {
            Csv => new CsvTableWriter(spec, output),
            Parquet => new ParquetTableWriter(spec, output),
            _ => new JsonTableWriter(spec, output),
        };
        fill(table);
        table.Finish();
        return table.Rows;
    }

    private void FillFrames(TableWriter table) => Read((decoder, source) => new FrameTable(decoder.Senders, table));

    private void FillChanges(TableWriter table)
    {
        Dictionary<(UniverseId Universe, int Slot), SlotName> names = Sheet is null ? [] : Names();
        Read((decoder, source) => new ChangeTable(decoder.Senders, table, names));
    }

    private void Read(Func<RecordDecoder, ICaptureSource, IAnalyzer> table)
    {
        using ICaptureSource source = Open();
        LineChoice.Check(source, Line);
        RecordDecoder decoder = new(Line);
        using WaitLine wait = new(host, "export");
        new Session(source, decoder, new FanOut(table(decoder, source), wait)).Run(host.Stop);
        End(source);
        RefuseNothing(Surveyor.Inputs(source, decoder));
    }

    private SurveySnapshot Survey()
    {
        using ICaptureSource source = Open();
        LineChoice.Check(source, Line);
        RecordDecoder decoder = new(Line);
        SurveyAnalyzer surveyor = new();
        using WaitLine wait = new(host, "export");
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, wait), host.Stop);
        End(source);
        RefuseNothing(survey.Inputs);
        return survey;
    }

    private List<TimedInput> Timed()
    {
        Cli.Inputs.Check(Inputs, Live);
        List<TimedInput> timed = [];
        foreach (string input in Inputs)
        {
            using ICaptureSource source = Cli.Inputs.OpenApart(input, Live, Files);
            using WaitLine wait = new(host, "export");
            timed.Add(TimingRun.Of(input, source, Line, null, NetworkTiming.DefaultClockPpm, keepsTap: false, IsLive ? CancellationToken.None : host.Stop, wait));
            End(source);
        }

        RefuseNothing([.. timed.SelectMany(input => input.Inputs)]);
        return timed;
    }

    private ICaptureSource Open() => Cli.Inputs.OpenMerged(Inputs, Live, Files);

    private void RefuseNothing(IReadOnlyList<InputSummary> read)
    {
        if (!IsLive)
        {
            NoRecords.Refuse(read, "export");
        }
    }

    private void End(ICaptureSource source)
    {
        if (!IsLive)
        {
            host.Stop.ThrowIfCancellationRequested();
        }

        if (source.Problem is InputProblem problem)
        {
            _cut.Add(problem.ToString());
        }
    }

    private long WriteSheet(Stream output)
    {
        WalkRun walk = WalkRun.Of(Open, Sheet!, Map, null, host.Stop);
        _cut.AddRange(walk.Survey.Inputs.Select(input => input.Cut).OfType<InputProblem>().Select(cut => cut.ToString()));
        PatchUnit[] units = [.. walk.AsFound()];
        using StreamWriter text = new(output, leaveOpen: true);
        PatchWriter.Write(text, units);
        return units.Length;
    }

    private Dictionary<(UniverseId Universe, int Slot), SlotName> Names()
    {
        PatchSheet patch = Sheet!.Patch;
        UniverseMap? given = UniverseMap.Given(Map, patch);
        UniverseMap map = given is not null && (IsLive || Inputs.Contains("-")) ? given // what is read once only is not surveyed first
            : UniverseMap.Detect(patch.Universes, Survey().Universes.Select(universe => universe.Id), patch.UniverseBase, given);
        Dictionary<(UniverseId Universe, int Slot), SlotName> names = [];
        foreach (PatchUnit unit in patch.Units)
        {
            if (map.Wire.TryGetValue(unit.Universe, out UniverseId wire))
            {
                ChartMode? mode = Sheet.Charts.Find(unit.Type, unit.Mode);
                for (int slot = 1; slot <= PatchCheck.FootprintOf(unit, Sheet.Charts); slot++)
                {
                    Name(names, (wire, unit.Address + slot - 1), unit.Unit, mode?.Find(slot)?.Function ?? "");
                }
            }
        }

        return names;
    }

    // Units may share slots, on purpose or not: all of them are named.
    private static void Name(Dictionary<(UniverseId Universe, int Slot), SlotName> names, (UniverseId Universe, int Slot) place, string unit, string function) =>
        names[place] = names.TryGetValue(place, out SlotName? there)
            ? new SlotName($"{there.Unit} + {unit}", there.Function == function ? function : $"{there.Function} + {function}")
            : new SlotName(unit, function);
}
