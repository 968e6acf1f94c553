using System.Globalization;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>explain</c>: capture, sheet and charts in, explanation out.</summary>
/// <param name="Explanation">What the unit should be doing and why.</param>
/// <param name="Map">Which universe of the wire each universe of the sheet is.</param>
/// <param name="Survey">The survey of the same capture.</param>
internal sealed record ExplainRun(Explanation Explanation, UniverseMap Map, SurveySnapshot Survey)
{
    /// <summary>What the caller is told: a fault is a unit that nobody drives, or several that do not agree; or an input was not read to its end.</summary>
    public int ExitCode => Explanation.State is null or UnitState.NotSent || Survey.IsCut ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture; not disposed.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="unitName">The unit asked about.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="at">The time asked; null = the end.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">The unit, its chart, the map or the time does not serve; one sentence.</exception>
    public static ExplainRun Of(ICaptureSource source, SheetInUse sheet, string unitName, string? map, AskedTime? at, CancellationToken stop)
    {
        PatchUnit unit = LocateRun.UnitOf(sheet.Patch, unitName);
        ChartMode mode = ModeOf(sheet.Charts, unit);
        UniverseMap? given = UniverseMap.Given(map, sheet.Patch);
        HashSet<UniverseId> candidates = [.. UniverseMap.Choices(unit.Universe, sheet.Patch.UniverseBase, given)];
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        SlotTraceAnalyzer trace = new(candidates, unit.Address, mode) { Until = () => decoder.FirstRecord is Timestamp start ? at?.In(start) : null };
        ArbitrationUntil arbitration = new(candidates.Contains) { Until = trace.Until };
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, trace, arbitration), stop);
        stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(survey.Inputs, "explain");
        (Timestamp first, Timestamp last) = (survey.First!.Value, survey.Last!.Value);

        Timestamp moment = Within(at?.In(first) ?? last, first, last);

        UniverseMap found = UniverseMap.Of(sheet.Patch, survey.Universes.Select(universe => universe.Id), given);
        if (found.Ambiguous.FirstOrDefault(entry => entry.Sheet == unit.Universe) is { Choices: { } choices })
        {
            throw new UsageException(string.Create(CultureInfo.InvariantCulture,
                $"universe {unit.Universe} of the sheet may be {string.Join(" or ", choices.Select(choice => choice.Label))} in this capture; say which with --map {unit.Universe}={(choices[0].Protocol == UniverseProtocol.Sacn ? "sacn" : "artnet")}:{choices[0].Number}"));
        }

        UniverseId? wire = found.Wire.TryGetValue(unit.Universe, out UniverseId id) ? id : null;
        UniverseSummary? summary = survey.Universes.FirstOrDefault(universe => universe.Id == wire);
        IReadOnlyList<SlotAnswer> winners = summary is null ? [] : arbitration.Ask(decoder.Streams, summary.Id, unit.Address, Math.Min(unit.Address + mode.Footprint - 1, SlotHistory.SlotCount));
        return new ExplainRun(UnitExplainer.Explain(unit, summary?.Id, trace, decoder.Senders.Describe, summary?.Obeyed ?? [], moment, winners), found, survey);
    }

    /// <summary>A time asked, where the capture reaches.</summary>
    /// <exception cref="UsageException">It does not.</exception>
    internal static Timestamp Within(Timestamp moment, Timestamp first, Timestamp last) => moment >= first && moment <= last
        ? moment
        : throw new UsageException($"--at: expected a time within the capture, {first} to {last}, found {moment}; give seconds from the first record, or a time of that span");

    /// <summary>The mode of a unit by its chart.</summary>
    /// <exception cref="UsageException">There is no chart, or it has no such mode.</exception>
    internal static ChartMode ModeOf(ChartSet charts, PatchUnit unit)
    {
        Chart chart = charts.Find(unit.Type)
            ?? throw new UsageException($"there is no chart of type '{unit.Type}', which the sheet gives for '{unit.Unit}'; put {unit.Type}.csv among the charts or name their folder with --charts");
        return charts.Find(unit.Type, unit.Mode)
            ?? throw new UsageException($"the chart '{unit.Type}' has no mode '{unit.Mode}', which the sheet gives for '{unit.Unit}'; it has {string.Join(", ", chart.Modes.Select(mode => $"'{mode.Name}'"))}");
    }
}
