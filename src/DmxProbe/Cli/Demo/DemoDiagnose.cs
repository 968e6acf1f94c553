using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Capture.Filters;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Demo;

/// <summary>What diagnosing the built-in soundcheck must say; what was built into it is in captures/README.md.</summary>
internal static class DemoDiagnose
{
    /// <summary>The complaint about the unit that does not follow.</summary>
    public const string Said = "it does not react";

    /// <summary>Diagnoses the embedded soundcheck, network and line together.</summary>
    /// <param name="located">What locating found for the unit that does not follow.</param>
    /// <param name="stop">Ctrl-C.</param>
    public static DiagnoseRun Run(LocateRun located, CancellationToken stop)
    {
        using MergedSource source = new([HarbourHall.Capture(), HarbourHall.StageLeft()]);
        SheetInUse sheet = new("harbour-hall/patch.csv", located.About.Sheet, located.About.Charts, new PatchRecognition("CSV", 1, [], [], []));
        return DiagnoseRun.Of(source, sheet, new DiagnoseAsked([DemoLocate.Unit], Said, Map: null), [located], taps: null, LineOptions.Found, stop);
    }

    /// <summary>Holds a diagnosis against what was built into the soundcheck.</summary>
    public static IReadOnlyList<DemoAnswer> Answers(DiagnoseRun run)
    {
        string[] faults = [.. run.Result.Ranked.Where(report => report.Severity == Analysis.Findings.Severity.Fault).Select(report => report.Cause.Id)];
        return
        [
            new($"What is wrong with {DemoLocate.Unit}?", "digits-swapped", run.Result.First?.Cause.Id ?? "nothing"),
            new("Does the wire carry it?", "yes", run.Result.Forks.Any(fork => fork.Fork == FirstFork.Carries) ? "yes" : "no"),
            new("Which faults are there in all?", "digits-swapped, equal-priority, mark-after-break-short", string.Join(", ", faults.Order(StringComparer.Ordinal))),
        ];
    }
}
