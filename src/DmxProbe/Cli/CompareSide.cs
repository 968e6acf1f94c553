using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One of the two inputs of <c>compare</c>, read to its end.</summary>
/// <param name="Name">As the person named it.</param>
/// <param name="Survey">What is on it.</param>
/// <param name="Tap">Its frames, as far as they are kept.</param>
/// <param name="Night">Its cues and looks.</param>
internal sealed record CompareSide(string Name, SurveySnapshot Survey, TapRecording Tap, Night Night)
{
    /// <summary>Records read.</summary>
    public long Records => Survey.Inputs.Sum(input => input.Records);

    /// <summary>Time of the first record.</summary>
    public Timestamp? First => Survey.First;

    /// <summary>Time of the last record.</summary>
    public Timestamp? Last => Survey.Last;

    /// <summary>Where it ended early, a sentence each.</summary>
    public IEnumerable<string> Cuts => Survey.Inputs.Where(input => input.Cut is not null).Select(input => $"{Name} ends early: {input.Cut}");

    /// <summary>Reads an input.</summary>
    /// <param name="name">The word of the command line.</param>
    /// <param name="live">How to listen.</param>
    /// <param name="files">What the person says about line recordings.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">There are no levels in it.</exception>
    public static CompareSide Hear(string name, LiveAsked live, LineFileOptions files, CancellationToken stop)
    {
        bool isLive = Inputs.IsLive(name);
        using ICaptureSource source = Inputs.OpenApart(name, live, files);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        TapRecorder tap = new();
        NightRecorder night = new();
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, tap, night), isLive ? CancellationToken.None : stop);
        if (!isLive)
        {
            stop.ThrowIfCancellationRequested();
        }

        return survey.Universes.Count > 0
            ? new CompareSide(name, survey, tap.Snapshot(decoder), night.Snapshot(decoder))
            : throw new UsageException($"{name}: no levels of Art-Net, sACN, a DMX line or a serial port in it, so there is nothing to compare; survey says what there is");
    }
}
