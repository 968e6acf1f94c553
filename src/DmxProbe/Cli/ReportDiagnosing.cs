using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Html;

namespace DmxProbe.Cli;

/// <summary>Runs the diagnosis of a report: the same as <c>diagnose</c> with the same inputs, sheet and complaint.</summary>
internal static class ReportDiagnosing
{
    /// <summary>Runs it.</summary>
    /// <param name="host">The process.</param>
    /// <param name="inputs">The inputs; what is behind a link left out.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="asked">The complaint.</param>
    /// <param name="located">What locating found.</param>
    /// <param name="files">What was said about line recordings.</param>
    /// <param name="lines">What was said about lines.</param>
    public static ReportDiagnosis Of(
        ProgramHost host, IReadOnlyList<string> inputs, SheetInUse sheet, DiagnoseAsked asked, IReadOnlyList<LocateRun> located, LineFileOptions files, LineOptions lines)
    {
        using ICaptureSource source = Inputs.OpenMerged(inputs, null, files);
        DiagnoseRun run = DiagnoseRun.Of(source, sheet, asked, located, taps: null, lines, host.Stop);
        return new ReportDiagnosis(asked.Bad, run.Result, [.. DiagnoseOpenText.CannotTell(run.Result)]);
    }

    /// <summary>The units of the sheet with the universe each reads.</summary>
    public static IReadOnlyList<ReportUnit> Units(SheetInUse sheet, UniverseMap map) =>
    [
        .. sheet.Patch.Units.Select(unit => new ReportUnit(unit.Unit, unit.Position, map.Wire.TryGetValue(unit.Universe, out UniverseId wire) ? wire : null)),
    ];
}
