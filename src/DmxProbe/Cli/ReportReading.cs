using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Reads the inputs of a report, each once, and puts their surveys together.</summary>
/// <param name="host">The process.</param>
/// <param name="files">What was said about line recordings.</param>
/// <param name="lines">What was said about lines.</param>
internal sealed class ReportReading(ProgramHost host, LineFileOptions files, LineOptions lines)
{
    /// <summary>Reads one.</summary>
    /// <param name="input">The word of the command line.</param>
    /// <param name="isOneOfSeveral">Whether its frames are kept, to be held against those of another.</param>
    public ReportInput Read(string input, bool isOneOfSeveral)
    {
        using ICaptureSource source = Inputs.OpenMerged([input], null, files);
        LineChoice.Check(source, lines);
        RecordDecoder decoder = new(lines);
        SurveyAnalyzer surveyor = new();
        LineTimingAnalyzer timing = new(null, NetworkTiming.DefaultClockPpm);
        TapRecorder tap = new();
        OverTimeAnalyzer overTime = new();
        using WaitLine wait = new(host, "report");
        FanOut all = isOneOfSeveral ? new FanOut(surveyor, timing, overTime, wait, tap) : new FanOut(surveyor, timing, overTime, wait);
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, all, host.Stop);
        host.Stop.ThrowIfCancellationRequested();
        TimedInput timed = new(input, [.. NetworkTiming.Measure(survey, NetworkTiming.DefaultClockPpm), .. LineTimings.Measure(timing, survey.Lines)])
        {
            Inputs = survey.Inputs,
            Lines = survey.Lines,
            Tap = isOneOfSeveral ? tap.Snapshot(decoder) : null,
            Assumptions = [.. survey.Inputs.SelectMany(each => each.Assumptions)],
            Cut = source.Problem?.ToString() ?? "",
        };
        return new ReportInput(input, source is ILineSource, survey, timed, overTime.Snapshot(decoder.Senders));
    }

    /// <summary>
    /// The surveys as one. Captures of one network are merged by time; a line recording has a clock of its own, often none at all,
    /// so its survey is put beside it; and what comes out of a link is put beside what goes in, for merged it would count twice.
    /// </summary>
    /// <param name="read">The inputs.</param>
    /// <param name="behind">Inputs that are behind a link of another, with how much later their clock is.</param>
    public SurveySnapshot Together(IReadOnlyList<ReportInput> read, IReadOnlyDictionary<string, Duration> behind)
    {
        if (read.Count == 1)
        {
            return read[0].Survey;
        }

        ReportInput[] beside = [.. read.Where(input => input.IsLine || behind.ContainsKey(input.Name))];
        ReportInput[] merged = [.. read.Except(beside)];
        if (merged.Length == 0)
        {
            return beside.Skip(1).Aggregate(beside[0].Survey, (sum, other) => Beside(sum, other, offset: null));
        }

        SurveySnapshot first = merged[0].Survey;
        if (merged.Length > 1)
        {
            using ICaptureSource source = Inputs.OpenMerged([.. merged.Select(input => input.Name)], null, files);
            RecordDecoder decoder = new(lines);
            SurveyAnalyzer surveyor = new();
            using WaitLine wait = new(host, "report");
            first = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, wait), host.Stop);
            host.Stop.ThrowIfCancellationRequested();
        }

        return beside.Aggregate(first, (sum, other) => Beside(sum, other, behind.TryGetValue(other.Name, out Duration offset) ? offset : null));
    }

    private static Finding ByNearClock(Finding finding, Duration late) =>
        finding.From == default || finding.From == Timestamp.MinValue ? finding : finding with { From = finding.From - late, To = finding.To - late };

    private static SurveySnapshot Beside(SurveySnapshot first, ReportInput other, Duration? offset)
    {
        HashSet<UniverseId> known = [.. first.Universes.Select(universe => universe.Id)];
        HashSet<string> told = [.. first.Findings.Select(finding => finding.Text)];
        IEnumerable<Finding> more = other.Survey.Findings;
        return first with
        {
            Inputs = [.. first.Inputs, .. offset is { } later ? other.Survey.Inputs.Select(input => input with { First = input.First - later, Last = input.Last - later }) : other.Survey.Inputs],
            Universes = [.. first.Universes, .. other.Survey.Universes.Where(universe => offset is null || !known.Contains(universe.Id))],
            Lines = [.. first.Lines, .. other.Survey.Lines],
            Findings =
            [
                .. first.Findings
                    .Concat(offset is { } late ? more.Where(finding => !told.Contains(finding.Text)).Select(finding => ByNearClock(finding, late) with { Subject = $"{finding.Subject}, in {other.Name}" }) : more)
                    .OrderByDescending(finding => finding.Severity),
            ],
        };
    }
}
