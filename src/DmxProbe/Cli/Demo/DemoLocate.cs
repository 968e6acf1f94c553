using System.Globalization;

using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Demo;

/// <summary>What locating LX1-6 in the built-in soundcheck must say; what was built into it is in captures/README.md.</summary>
internal static class DemoLocate
{
    /// <summary>The unit that does not follow.</summary>
    public const string Unit = "LX1-6";

    /// <summary>Locates LX1-6 from the embedded files.</summary>
    public static LocateRun Run(CancellationToken stop)
    {
        using ICaptureSource source = HarbourHall.Capture();
        using StreamReader trace = HarbourHall.Trace();
        LocateAsked asked = new(Unit, "harbour-hall/lx1-6-trace.csv", Region: null, Map: null, Mode: null);
        return LocateRun.Of(source, HarbourHall.Patch(), HarbourHall.Charts(), asked, trace, stop);
    }

    /// <summary>Holds an answer against what was built into the soundcheck.</summary>
    public static IReadOnlyList<DemoAnswer> Answers(LocateRun run)
    {
        LocateCandidate? best = run.Result.Best;
        string reads = best is null || run.Result.Claim != LocateClaim.Found
            ? "no single address"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{run.About.SheetUniverses[best.Hypothesis.History]}.{best.Hypothesis.Address:000} in mode {best.Mode}");
        string sheet = string.Create(CultureInfo.InvariantCulture, $"{run.About.Unit.Universe}.{run.About.Unit.Address:000}");
        return
        [
            new($"Which address does {Unit} read?", "1.016 in mode 10 slot", reads),
            new("What does the sheet say?", "1.061", sheet),
            new("Which human error explains it?", "digits swapped", run.Answer.Explanation),
        ];
    }
}
