using System.Globalization;

using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Html;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Cli;

/// <summary>One run of <c>report</c>: inputs, sheet and trace in, one page out, whole or not at all.</summary>
/// <param name="host">The process.</param>
internal sealed class ReportRun(ProgramHost host)
{
    private const int MostHistograms = 6;
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
        using UnfinishedFile file = UnfinishedFile.Begin("-o", File);
        ReportContent content = Content();
        long octets = file.Fill(stream => ReportPage.Write(stream, content), host.Stop);
        bool isFaulty = content.Survey.Findings.Concat(content.MoreFindings).Any(finding => finding.Severity == Severity.Fault)
            || content.Timed.Any(input => input.Figures.Any(TimingText.IsOutside))
            || content.Located.Any(each => each.Answer.Claim is LocateClaim.Found or LocateClaim.Class && !each.Answer.AsTheSheetSays);
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

        if ((Units.Count > 0 || Trace is not null || Map is not null) && Sheet is null)
        {
            throw new UsageException("--unit, --trace and --map speak of a patch sheet, and none is given; add --patch");
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
        List<ReportInput> read = [.. Inputs.Select(Read)];
        if (read.All(input => input.Survey.Inputs.Sum(each => each.Records) == 0))
        {
            throw new UsageException($"{string.Join(", ", Inputs)}: no record is in it, so there is nothing to report; check that the capture ran, and where");
        }

        string[] network = [.. read.Where(input => !input.IsLine).Select(input => input.Name)];
        SurveySnapshot survey = Together(read, network);
        WallClock clock = new(Zone, survey.First, survey.Last);
        UniverseMap? map = Sheet is null ? null : SheetOptions.MapFor(Map, Sheet.Patch, survey);
        IReadOnlyList<TapPair> pairs = read.Count > 1 ? TapPair.Among([.. read.Select(input => input.Timed.Tap!)], null) : [];
        FileHashes hashes = new(host, "report");
        return new ReportContent
        {
            Title = Title ?? "Report on " + string.Join(", ", Inputs.Select(Path.GetFileName)),
            Place = Place,
            By = By,
            Instrument = "DmxProbe " + DmxProbeProgram.Version,
            Command = Command,
            Connected = Connected,
            Workarounds = Workarounds,
            Survey = survey,
            Timed = [.. read.Select(input => input.Timed)],
            MoreFindings = Sheet is null ? [] : SheetFindings(Sheet, map!, survey),
            Taps = TapSentences.Of([.. read.Select(input => input.Timed)], pairs),
            Located = Trace is null ? [] : [Locate(network, clock)],
            Pictures = [.. Pictures(read, network, map, clock)],
            NotTested = [.. NotTested, .. Untested(read, survey, map)],
            Files =
            [
                .. Inputs.SelectMany(input => hashes.Of(input, "input")),
                .. Sheet is null ? [] : hashes.Of(Sheet.Path, "patch sheet"),
                .. Trace is null ? [] : hashes.Of(Trace, "measured light"),
            ],
            Clock = clock,
        };
    }

    private ReportInput Read(string input)
    {
        using ICaptureSource source = Cli.Inputs.OpenMerged([input], null, Files);
        LineChoice.Check(source, Line);
        RecordDecoder decoder = new(Line);
        SurveyAnalyzer surveyor = new();
        LineTimingAnalyzer timing = new(null, NetworkTiming.DefaultClockPpm);
        TapRecorder tap = new();
        OverTimeAnalyzer overTime = new();
        using WaitLine wait = new(host, "report");
        FanOut all = Inputs.Count > 1 ? new FanOut(surveyor, timing, overTime, wait, tap) : new FanOut(surveyor, timing, overTime, wait);
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, all, host.Stop);
        host.Stop.ThrowIfCancellationRequested();
        TimedInput timed = new(input, [.. NetworkTiming.Measure(survey, NetworkTiming.DefaultClockPpm), .. LineTimings.Measure(timing, survey.Lines)])
        {
            Lines = survey.Lines,
            Tap = Inputs.Count > 1 ? tap.Snapshot(decoder) : null,
            Assumptions = [.. survey.Inputs.SelectMany(each => each.Assumptions)],
            Cut = source.Problem?.ToString() ?? "",
        };
        return new ReportInput(input, source is ILineSource, survey, timed, overTime.Snapshot(decoder.Senders));
    }

    // Captures of one network are one survey, merged by time. A line recording has a clock of its own, often none at all, so its
    // survey is put beside it.
    private SurveySnapshot Together(List<ReportInput> read, string[] network)
    {
        if (read.Count == 1)
        {
            return read[0].Survey;
        }

        List<SurveySnapshot> lines = [.. read.Where(input => input.IsLine).Select(input => input.Survey)];
        if (network.Length == 0)
        {
            return Beside(lines[0], lines.Skip(1));
        }

        SurveySnapshot merged = read.First(input => !input.IsLine).Survey;
        if (network.Length > 1)
        {
            using ICaptureSource source = Cli.Inputs.OpenMerged(network, null, Files);
            merged = Surveyor.Run(source, host.Stop, Line);
            host.Stop.ThrowIfCancellationRequested();
        }

        return Beside(merged, lines);
    }

    private static SurveySnapshot Beside(SurveySnapshot first, IEnumerable<SurveySnapshot> others)
    {
        SurveySnapshot[] more = [.. others];
        return first with
        {
            Inputs = [.. first.Inputs, .. more.SelectMany(survey => survey.Inputs)],
            Universes = [.. first.Universes, .. more.SelectMany(survey => survey.Universes)],
            Lines = [.. first.Lines, .. more.SelectMany(survey => survey.Lines)],
            Findings = [.. first.Findings.Concat(more.SelectMany(survey => survey.Findings)).OrderByDescending(finding => finding.Severity)],
        };
    }

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

    private ReportLocate Locate(string[] network, WallClock clock)
    {
        if (network.Length == 0)
        {
            throw new UsageException("--trace is compared with what a network carried, and no input is a network capture; add the capture of the same minute");
        }

        using StreamReader light = TextFile.Open(Trace!);
        using ICaptureSource source = Cli.Inputs.OpenMerged(network, null, Files);
        LocateRun run = LocateRun.Of(source, Sheet!.Patch, Sheet.Charts, new LocateAsked(Units[0], Trace!, null, Map, null), light, host.Stop);
        return new ReportLocate(Units[0], run.Answer, LocatePicture.Draw(run.Result, run.About, clock.Time));
    }

    private IEnumerable<Picture> Pictures(List<ReportInput> read, string[] network, UniverseMap? map, WallClock clock)
    {
        foreach (ReportInput input in read.Where(input => !input.IsLine))
        {
            if (ActivityPicture.Draw(input.OverTime, clock.Time) is Picture activity)
            {
                yield return Named(activity, input.Name, network.Length > 1);
            }

            if (RatePicture.Draw(input.OverTime, clock.Time) is Picture rate)
            {
                yield return Named(rate, input.Name, network.Length > 1);
            }
        }

        foreach (Picture histogram in Histograms(read))
        {
            yield return histogram;
        }

        foreach (string unit in Units)
        {
            foreach (Picture history in History(unit, network, map!, clock))
            {
                yield return history;
            }
        }
    }

    private static Picture Named(Picture picture, string input, bool several) => several ? picture with { Title = $"{picture.Title}: {input}" } : picture;

    // What is outside or undecided first: a histogram of what is plainly inside tells little.
    private static IEnumerable<Picture> Histograms(List<ReportInput> read) => read
        .SelectMany(input => input.Timed.Figures.Select(figure => (input.Name, Figure: figure)))
        .Where(row => row.Figure.Protocol == UniverseProtocol.Line && row.Figure.Quantity is "break" or "markAfterBreak" or "interSlot" or "breakToBreak")
        .OrderBy(row => row.Figure.Verdict == LimitVerdict.Inside ? 1 : 0)
        .Select(row => HistogramPicture.Draw(row.Figure, row.Name))
        .OfType<Picture>()
        .Take(MostHistograms);

    private List<Picture> History(string name, string[] network, UniverseMap map, WallClock clock)
    {
        PatchUnit unit = LocateRun.UnitOf(Sheet!.Patch, name);
        if (network.Length == 0 || !map.Wire.TryGetValue(unit.Universe, out UniverseId wire))
        {
            return [];
        }

        ChartMode? mode = Sheet.Charts.Find(unit.Type, unit.Mode);
        using ICaptureSource source = Cli.Inputs.OpenMerged(network, null, Files);
        RecordDecoder decoder = new(Line);
        SlotOverTimeAnalyzer slots = new(wire, unit.Address, PatchCheck.FootprintOf(unit, Sheet.Charts));
        using WaitLine wait = new(host, "report");
        new Session(source, decoder, new FanOut(slots, wait)).Run(host.Stop);
        host.Stop.ThrowIfCancellationRequested();
        Dictionary<int, string> names = mode is null ? [] : mode.Slots.ToDictionary(slot => unit.Address + slot.Slot - 1, slot => slot.Function);
        return
        [
            .. slots.Snapshot(decoder.Senders).GroupBy(slot => slot.Sender.Index)
                .Select(group => SlotPicture.Draw(
                    string.Create(CultureInfo.InvariantCulture, $"{unit.Unit} ({unit.Universe}.{unit.Address:000}, {wire.Label}), as {SenderOf(group.First())} sends it"),
                    [.. group],
                    names,
                    slots.Bins,
                    clock.Time))
                .OfType<Picture>(),
        ];
    }

    private static string SenderOf(SlotOverTime slot) => slot.Sender.Name.Length > 0 ? slot.Sender.Name : slot.Sender.Address;

    private IEnumerable<string> Untested(List<ReportInput> read, SurveySnapshot survey, UniverseMap? map)
    {
        if (read.All(input => !input.IsLine))
        {
            yield return "Break, mark after break and bit times of DMX lines: no line recording was given, and a network does not show them";
        }

        if (read.All(input => input.IsLine))
        {
            yield return "Who makes the levels, losses and priorities on the network: no network capture was given";
        }

        if (Sheet is null)
        {
            yield return "Whether the units get what they should: no patch sheet was given";
        }
        else
        {
            foreach (int sheet in Sheet.Patch.Universes.Where(universe => !map!.Wire.ContainsKey(universe)))
            {
                yield return string.Create(CultureInfo.InvariantCulture, $"Universe {sheet} of the sheet: it was not captured, or which one it is stayed open (--map)");
            }
        }

        if (Trace is null)
        {
            yield return "Which addresses the lights really read: what was sent says nothing of that; give the measured light of a unit (--trace), or do the function check (dmxprobe walk)";
        }

        foreach (TimedInput timed in read.Select(input => input.Timed))
        {
            string[] undecided = [.. timed.Figures.Where(figure => figure.Verdict == LimitVerdict.Undecided).Select(figure => LineTimings.Words(figure.Quantity)).Distinct()];
            if (undecided.Length > 0)
            {
                yield return $"{timed.Input}: {string.Join(", ", undecided)} stayed undecided (too few packets, or the recorder is too coarse for the limit)";
            }

            if (timed.Cut.Length > 0)
            {
                yield return $"{timed.Input} ends early: {timed.Cut}";
            }
        }

        long lost = survey.Inputs.Sum(input => input.LostByCapture);
        if (lost > 0)
        {
            yield return $"What was in {Figures.Count(lost, "record")} that the capture itself lost";
        }

        yield return "Anything outside the time covered, and what a unit does with the data it gets";
    }
}
