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

    /// <summary>True for what was heard live.</summary>
    public bool IsLive { get; private init; }

    /// <summary>Reads both inputs: two live ones at once, or they would not be of one moment; else the file first, because it may refuse at once.</summary>
    /// <param name="first">The first word of the command line.</param>
    /// <param name="second">The second.</param>
    /// <param name="live">How to listen.</param>
    /// <param name="files">What the person says about line recordings.</param>
    /// <param name="stop">Ctrl-C: a live input then gives what was heard so far.</param>
    /// <returns>Both, in the order given.</returns>
    /// <exception cref="UsageException">There are no levels in one.</exception>
    public static CompareSide[] HearBoth(string first, string second, LiveAsked live, LineFileOptions files, CancellationToken stop)
    {
        if (Inputs.IsLive(first) && Inputs.IsLive(second))
        {
            if (first == second)
            {
                throw new UsageException($"'{first}' is named twice, and one input is no two taps; name the tap before the link, then the one behind it");
            }

            // Both are open before either is heard: one that cannot be opened must not leave the other listening.
            using ICaptureSource before = Inputs.OpenApart(first, live, files);
            using ICaptureSource behind = Inputs.OpenApart(second, live, files);
            Task<CompareSide> other = Task.Run(() => Hear(second, behind, stop), CancellationToken.None);
            CompareSide one = Hear(first, before, stop);
            return [one.Checked(), other.GetAwaiter().GetResult().Checked()];
        }

        bool isFirstLive = Inputs.IsLive(first);
        CompareSide early = Read(isFirstLive ? second : first, live, files, stop);
        CompareSide late = Read(isFirstLive ? first : second, live, files, stop);
        return isFirstLive ? [late, early] : [early, late];
    }

    private static CompareSide Read(string name, LiveAsked live, LineFileOptions files, CancellationToken stop)
    {
        using ICaptureSource source = Inputs.OpenApart(name, live, files);
        return Hear(name, source, stop).Checked();
    }

    private static CompareSide Hear(string name, ICaptureSource source, CancellationToken stop)
    {
        bool isLive = Inputs.IsLive(name);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        TapRecorder tap = new();
        NightRecorder night = new();
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, tap, night), isLive ? CancellationToken.None : stop);
        if (!isLive)
        {
            stop.ThrowIfCancellationRequested();
        }

        return new CompareSide(name, survey, tap.Snapshot(decoder), night.Snapshot(decoder)) { IsLive = isLive };
    }

    private CompareSide Checked()
    {
        if (!IsLive)
        {
            NoRecords.Refuse(Survey.Inputs, "compare");
        }

        return Survey.Universes.Count > 0 ? this : throw new UsageException(IsLive
            ? $"{Name}: no levels were heard, so there is nothing to compare; survey {Name} says what there is (sACN is only heard where it is joined: --join)"
            : $"{Name}: no levels of Art-Net, sACN, a DMX line or a serial port in it, so there is nothing to compare; survey says what there is");
    }
}
