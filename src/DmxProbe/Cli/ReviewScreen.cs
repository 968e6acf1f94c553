using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli.Ask;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;
using DmxProbe.Tui;

namespace DmxProbe.Cli;

/// <summary><c>review</c> on a terminal: the recording on the screen.</summary>
internal static class ReviewScreen
{
    /// <summary>Whether a screen is wanted and can be: a terminal, and no question that text answers.</summary>
    /// <param name="json">Whether JSON is wanted.</param>
    /// <param name="host">The process.</param>
    /// <param name="questions">What was asked for.</param>
    /// <param name="slot">The slot asked for.</param>
    public static bool IsAsked(bool json, ProgramHost host, IEnumerable<string?> questions, int? slot) =>
        !json && slot is null && questions.All(question => question is null) && host.ReadKey is not null && !Console.IsOutputRedirected;

    /// <summary>Shows it until the person leaves.</summary>
    /// <param name="name">The recording.</param>
    /// <param name="host">The process.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="zone">The zone of times.</param>
    /// <param name="at">Where to begin; null: at the start.</param>
    /// <param name="color">Whether to use colour.</param>
    /// <param name="inUse">The sheet as it was read; null: none was given.</param>
    /// <param name="log">Takes the answers of the guided screens; null: they are not kept.</param>
    /// <returns>1 where a fault is in the recording.</returns>
    public static int Show(string name, ProgramHost host, ScreenSheet sheet, TimeZoneInfo zone, AskedTime? at, bool color, SheetInUse? inUse, AskLog? log)
    {
        using ReviewIndex index = ReviewCommand.Open(name, host, out _);
        if (index.First is not Timestamp first || index.Last is not Timestamp last)
        {
            throw new UsageException($"{name}: no levels were recorded, so there is nothing to look at; survey says what is in it");
        }

        Timestamp? begin = at is null ? null : ReviewRun.Inside(at, "--at", first, last);
        SurveySnapshot survey;
        TimeCodeAnalyzer code = new();
        if (host.IsTerminal)
        {
            host.Error.WriteLine($"dmxprobe: reading {Printable.Text(name)} once for what is in it.");
            host.Error.Flush();
        }

        using (ICaptureSource source = Inputs.OpenMerged([name]))
        {
            RecordDecoder decoder = new();
            SurveyAnalyzer surveyor = new(ReviewPictures.KeptChanges);
            survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, code), host.Stop);
        }

        host.Stop.ThrowIfCancellationRequested();
        using ScreenWish wish = new();
        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(host.Stop);
        ReviewPictures review = new(index, survey, sheet, wish, targets => Walk(name, targets, host.Stop)) { TimeCode = code };
        review.Line.Go(begin ?? review.Opening);
        ScreenGuides guides = new(inUse, log, zone, host.Clock, ScreenGuides.Apart) { IsRecording = true, Recorded = () => Levels(name, host.Stop) };
        ScreenRun.Show(review, new Screen(sheet, zone, wish, review, guides), color, host.Clock, stop);
        return survey.Findings.Any(finding => finding.Severity == Severity.Fault) || survey.IsCut ? ExitCode.FaultsFound : ExitCode.Clean;
    }

    /// <summary>The levels of the whole recording.</summary>
    internal static IReadOnlyList<SlotHistory> Levels(string name, CancellationToken stop)
    {
        RecordDecoder decoder = new();
        SlotHistoryAnalyzer keeper = new() { StartFrom = () => decoder.FirstRecord };
        using ICaptureSource source = Inputs.OpenMerged([name]);
        new Session(source, decoder, keeper).Run(stop);
        return keeper.Snapshot();
    }

    /// <summary>What was moved in the whole recording.</summary>
    internal static WalkResult Walk(string name, IReadOnlyList<WalkTarget> targets, CancellationToken stop)
    {
        WalkAnalyzer walk = new(targets);
        using ICaptureSource source = Inputs.OpenMerged([name]);
        new Session(source, new RecordDecoder(), walk).Run(stop);
        return walk.Snapshot();
    }
}
