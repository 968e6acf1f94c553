using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>diagnose</c>: capture, sheet and complaint in, diagnosis out.</summary>
/// <param name="Case">All that was at hand.</param>
/// <param name="Result">The diagnosis.</param>
/// <param name="Map">Which universe of the wire each universe of the sheet is; null without a sheet.</param>
internal sealed record DiagnoseRun(DiagnosisCase Case, DiagnosisResult Result, UniverseMap? Map)
{
    /// <summary>What the caller is told: a fault is a cause of severity fault that is proven, likely or possible; an input that ends early is not clean.</summary>
    public int ExitCode => Result.Ranked.Any(report => report.Severity == Analysis.Findings.Severity.Fault) || Case.Survey.IsCut ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="sheet">The sheet; null when there is none.</param>
    /// <param name="asked">What was asked.</param>
    /// <param name="located">What locating found.</param>
    /// <param name="taps">Two places of one moment, compared; null where there is one.</param>
    /// <param name="line">What a person says about line recordings.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">A unit is not on the sheet, or the map or the capture does not serve; one sentence.</exception>
    public static DiagnoseRun Of(ICaptureSource source, SheetInUse? sheet, DiagnoseAsked asked, IReadOnlyList<LocateRun> located, TwoTaps? taps, LineOptions line, CancellationToken stop)
    {
        UniverseMap? given = UniverseMap.Given(asked.Map, sheet?.Patch);
        UniverseMap? known = null;
        IEnumerable<int> sheetUniverses = sheet?.Patch.Universes ?? [];
        DiagnosisAsked question = new()
        {
            Sheet = sheet?.Patch,
            Charts = sheet?.Charts,
            Bad = asked.Bad,
            Said = asked.Said,
            Taps = taps,
            Located = [.. located.Select(run => new LocatedUnit(run.About.Unit.Unit, run.Result, run.Answer))],
            MayBe = number => UniverseMap.Choices(number, sheet?.Patch.UniverseBase ?? 1, given),
            Map = captured =>
            {
                known = UniverseMap.Detect(sheetUniverses, captured, sheet?.Patch.UniverseBase ?? 1, given);
                return (known.Wire, [.. known.Ambiguous.Select(entry => entry.Sheet)]);
            },
        };
        DiagnosisCase found = DiagnosisReader.Read(source, question, line, stop);
        stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(found.Survey.Inputs, "diagnose");
        return new DiagnoseRun(found, Diagnoser.Run(found), sheet is null ? null : known);
    }
}
