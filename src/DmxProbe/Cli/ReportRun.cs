using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Html;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Cli;

/// <summary>One run of <c>report</c>: inputs, sheet and trace in, one page out, whole or not at all.</summary>
/// <param name="host">The process.</param>
internal sealed class ReportRun(ProgramHost host)
{
    private const int MostUnits = 12;

    /// <summary>The words of the command line.</summary>
    public required IReadOnlyList<string> Inputs { get; init; }

    /// <summary>The page to write.</summary>
    public required string File { get; init; }

    /// <summary>The patch sheet, if there is one.</summary>
    public SheetInUse? Sheet { get; init; }

    /// <summary>Units to draw.</summary>
    public IReadOnlyList<string> Units { get; init; } = [];

    /// <summary>The measured light of the one unit.</summary>
    public string? Trace { get; init; }

    /// <summary>The map of universes as given.</summary>
    public string? Map { get; init; }

    /// <summary>Units called bad, names parted by commas, as given.</summary>
    public string[] Bad { get; init; } = [];

    /// <summary>What people say about it, as given.</summary>
    public string? Said { get; init; }

    /// <summary>Whether all inputs have one clock; null to decide by what is found.</summary>
    public bool? IsOneClock { get; init; }

    /// <summary>Title as given.</summary>
    public string? Title { get; init; }

    /// <summary>Place as given.</summary>
    public string Place { get; init; } = "";

    /// <summary>Who, as given.</summary>
    public string By { get; init; } = "";

    /// <summary>What was connected where, as given.</summary>
    public IReadOnlyList<string> Connected { get; init; } = [];

    /// <summary>Work-arounds, as given.</summary>
    public IReadOnlyList<string> Workarounds { get; init; } = [];

    /// <summary>What was not tested, as given.</summary>
    public IReadOnlyList<string> NotTested { get; init; } = [];

    /// <summary>What was said about line recordings.</summary>
    public required LineFileOptions Files { get; init; }

    /// <summary>What was said about lines.</summary>
    public required LineOptions Line { get; init; }

    /// <summary>The zone of the times.</summary>
    public required TimeZoneInfo Zone { get; init; }

    /// <summary>The command line.</summary>
    public required string Command { get; init; }

    /// <summary>Writes the page.</summary>
    /// <returns>Whether open faults are in it, its length, and why inputs ended early.</returns>
    /// <exception cref="UsageException">It cannot be written; one sentence.</exception>
    public (bool IsFaulty, long Octets, IReadOnlyList<string> Cut) Run()
    {
        Check();
        host.EndsByItself();
        host.SaysOnStop(ProgramHost.NothingWritten);
        using UnfinishedFile file = UnfinishedFile.Begin("-o", File);
        ReportContent content = Content();
        long octets = file.Fill(stream => ReportPage.Write(stream, content), host.Stop);
        bool isFaulty = content.Survey.Findings.Concat(content.MoreFindings).Any(finding => finding.Severity == Severity.Fault)
            || content.Timed.Any(input => input.Figures.Any(TimingText.IsOutside))
            || content.Links.Any(link => link.Found.HasFaults)
            || content.Diagnosis is { } diagnosis && diagnosis.Result.Ranked.Any(cause => cause.Severity == Severity.Fault)
            || content.Located.Any(each => each.Answer.IsClaim && !each.Answer.AsTheSheetSays);
        return (isFaulty, octets, [.. content.Timed.Select(input => input.Cut).Where(cut => cut.Length > 0)]);
    }

    private void Check()
    {
        if (Inputs.FirstOrDefault(Cli.Inputs.IsLive) is string live)
        {
            throw new UsageException($"'{live}' is a live input, and a report rests on files that can be checked later; record it first (dmxprobe record {live} -o tonight), then report on the recording");
        }

        if (Inputs.Contains("-"))
        {
            throw new UsageException("standard input is read once only, and a report names files that can be checked later; put it into a file first");
        }

        if ((Units.Count > 0 || Trace is not null || Map is not null || Bad.Length > 0 || Said is not null) && Sheet is null)
        {
            throw new UsageException("--unit, --trace, --map, --bad and --said speak of a patch sheet, and none is given; add --patch");
        }

        if (Trace is not null && Units.Count != 1)
        {
            throw new UsageException($"--trace is the light of one unit, and {(Units.Count == 0 ? "no unit is" : "several units are")} given; name the one with --unit");
        }

        if (Units.Count > MostUnits)
        {
            throw new UsageException($"--unit: at most {MostUnits} units are drawn, found {Units.Count}; make a report for each group");
        }
    }

    private ReportContent Content()
    {
        DiagnoseAsked? asked = Sheet is null ? null : DiagnoseAsked.Of(Bad, Said, Map, Sheet.Patch);
        ReportReading reading = new(host, Files, Line);
        FileHashes hashes = new(host, "report");
        (List<string> inputs, List<string> twice) = Once(hashes);
        List<ReportInput> read = [.. inputs.Select(input => reading.Read(input, inputs.Count > 1))];
        NoRecords.Refuse([.. read.SelectMany(input => input.Survey.Inputs)], "report");
        IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> all = inputs.Count > 1 ? ReportLinks.Find(read, IsOneClock) : [];
        IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> links = [.. all.Where(link => link.Found.IsSure)];
        Dictionary<string, Duration> behind = ReportLinks.Offsets([.. links.Where(link => !link.Far.IsLine)]);
        string[] network = [.. read.Where(input => !input.IsLine && !behind.ContainsKey(input.Name)).Select(input => input.Name)];
        SurveySnapshot survey = reading.Together(read, behind);
        WallClock clock = new(Zone, survey.First, survey.Last);
        UniverseMap? map = Sheet is null ? null : SheetOptions.MapFor(Map, Sheet.Patch, survey);
        LocateRun? located = Trace is null ? null : Locate(network);
        IReadOnlyList<TapPair> pairs = read.Count > 1 ? TapPair.Among([.. read.Select(input => input.Timed.Tap!)], IsOneClock) : [];
        return new ReportContent
        {
            Title = Title ?? "Report on " + string.Join(", ", inputs.Select(Path.GetFileName)),
            Place = Place,
            By = By,
            Instrument = "DmxProbe " + DmxProbeProgram.Version,
            Command = Command,
            Connected = Connected,
            Workarounds = Workarounds,
            Survey = survey,
            Timed = [.. read.Select(input => input.Timed)],
            MoreFindings = Sheet is null ? [] : SheetFindings(Sheet, map!, survey),
            Units = Sheet is null ? [] : ReportDiagnosing.Units(Sheet, map!),
            Diagnosis = Sheet is null ? null
                : ReportDiagnosing.Of(host, [.. inputs.Where(input => !behind.ContainsKey(input))], Sheet, asked!, located is null ? [] : [located], Files, Line),
            Links = ReportLinks.Of(links, clock),
            Taps = TapSentences.Of([.. read.Select(input => input.Timed)], pairs),
            Located = located is null ? [] : [new ReportLocate(Units[0], located.Answer, LocatePicture.Draw(located.Result, located.About, clock.Time))],
            Pictures = [.. new ReportPictures(host, Sheet, Units, Files, Line).All(read, network, map, clock, behind)],
            NotTested = [.. NotTested, .. all.Except(links).Select(ReportLinks.Unsure), .. ReportUntested.Of(read, survey, Sheet, map, Trace is not null)],
            Files =
            [
                .. inputs.SelectMany(input => hashes.Of(input, "input")),
                .. Sheet is null ? [] : hashes.Of(Sheet.Path, "patch sheet"),
                .. Trace is null ? [] : hashes.Of(Trace, "measured light"),
            ],
            Clock = clock,
            Remarks = [.. twice, .. ReportLinks.Clocks(links)],
        };
    }

    // One recording given twice, under one name or as a copy, would count every fault twice.
    private (List<string> Inputs, List<string> Twice) Once(FileHashes hashes)
    {
        List<string> once = [];
        List<string> twice = [];
        foreach (string input in Inputs)
        {
            string? same = once.Find(other => IsSame(other, input, hashes));
            if (same is null)
            {
                once.Add(input);
            }
            else
            {
                twice.Add(same == input ? $"{input} was given more than once: it is the same recording, and is taken once" : $"{same} and {input} are the same recording: it is taken once");
            }
        }

        return (once, [.. twice.Distinct()]);
    }

    private static bool IsSame(string one, string other, FileHashes hashes) =>
        Path.GetFullPath(one) == Path.GetFullPath(other)
        || (System.IO.File.Exists(one) && System.IO.File.Exists(other) && new FileInfo(one).Length == new FileInfo(other).Length
            && hashes.Of(one, "input")[0].Sha256 == hashes.Of(other, "input")[0].Sha256);

    private static List<Finding> SheetFindings(SheetInUse sheet, UniverseMap map, SurveySnapshot survey) =>
    [
        .. PatchCheck.Check(sheet.Patch, sheet.Charts, PatchCommand.Facts(sheet.Patch, map, survey)).Select(found => new Finding
        {
            Id = found.Id,
            Severity = found.Severity == PatchSeverity.Fault ? Severity.Fault : Severity.Warning,
            Subject = "patch sheet" + (found.Units.Count > 0 ? ": " + string.Join(", ", found.Units) : ""),
            Text = found.Text,
            Action = found.Action,
        }),
    ];

    private LocateRun Locate(string[] network)
    {
        if (network.Length == 0)
        {
            throw new UsageException("--trace is compared with what a network carried, and no input is a network capture; add the capture of the same minute");
        }

        using StreamReader light = TextFile.Open(Trace!);
        using ICaptureSource source = Cli.Inputs.OpenMerged(network, null, Files);
        return LocateRun.Of(source, Sheet!.Patch, Sheet.Charts, new LocateAsked(Units[0], Trace!, null, Map, null), light, host.Stop);
    }
}
