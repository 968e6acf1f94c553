using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Measures one input: what arrives on a network, and the edges of lines.</summary>
internal static class TimingRun
{
    /// <summary>Runs an input from beginning to end.</summary>
    /// <param name="name">What to call it.</param>
    /// <param name="source">The input; not disposed.</param>
    /// <param name="line">What was said about line recordings.</param>
    /// <param name="against">Whose limits; null: by START code.</param>
    /// <param name="clockPpm">Error of its clock, parts per million.</param>
    /// <param name="keepsTap">Whether its frames are kept, to compare it with another tap.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <param name="wait">Tells a person how far it is; null: nobody.</param>
    public static TimedInput Of(
        string name, ICaptureSource source, LineOptions line, LineRole? against, double clockPpm, bool keepsTap, CancellationToken stop, WaitLine? wait = null)
    {
        LineChoice.Check(source, line);
        RecordDecoder decoder = new(line);
        SurveyAnalyzer surveyor = new();
        LineTimingAnalyzer timing = new(against, clockPpm);
        TapRecorder tap = new();
        IAnalyzer[] all = [surveyor, timing, .. keepsTap ? [tap] : Array.Empty<IAnalyzer>(), .. wait is null ? [] : new IAnalyzer[] { wait }];
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(all), stop);
        stop.ThrowIfCancellationRequested();
        return new TimedInput(name, [.. NetworkTiming.Measure(survey, clockPpm), .. LineTimings.Measure(timing, survey.Lines)])
        {
            Inputs = survey.Inputs,
            Lines = survey.Lines,
            Tap = keepsTap ? tap.Snapshot(decoder) : null,
            Assumptions = [.. survey.Inputs.SelectMany(input => input.Assumptions)],
            Cut = source.Problem?.ToString() ?? "",
            ClockPpm = clockPpm,
        };
    }
}
