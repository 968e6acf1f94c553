using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Together;

/// <summary>
/// Locates several units at once. Each light is weighed by itself first; then the units of a sheet universe are taken as a row, in
/// which one cause can shift many: what the others make likely is evidence about each. Spill is worked out again with the units where
/// they were found, and lights of one uncertain clock share its shift.
/// </summary>
public static class TogetherInference
{
    /// <summary>Most units at once.</summary>
    public const int MostUnits = 200;

    /// <summary>Runs it.</summary>
    /// <param name="units">The units, at least one; all with the same histories.</param>
    /// <returns>In order of sheet universe and address; the same units always give the same result.</returns>
    public static TogetherResult Run(IReadOnlyList<UnitInRow> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        ArgumentOutOfRangeException.ThrowIfZero(units.Count, nameof(units));
        UnitInRow[] rows = [.. units.OrderBy(unit => unit.SheetUniverse).ThenBy(unit => unit.Address).ThenBy(unit => unit.Name, StringComparer.Ordinal)];
        LocateResult[] alone = [.. rows.Select(unit => LocateInference.Run(unit.Question))];
        double shift = OneClock(rows, alone);
        LocateResult[] results = [.. alone];
        List<RowFinding> findings = [];
        foreach (int[] row in Enumerable.Range(0, rows.Length).GroupBy(i => rows[i].SheetUniverse).Select(group => group.ToArray()))
        {
            RowChain chain = new([.. row.Select(i => rows[i])], [.. row.Select(i => alone[i])]);
            for (int place = 0; place < row.Length; place++)
            {
                // A row of one has nothing to say about itself.
                if (chain.Speaks.Where((speaks, other) => speaks && other != place).Any())
                {
                    int i = row[place];
                    LocateResult joint = LocateInference.Run(rows[i].Question with { Others = Found(rows, alone, i), Also = chain.Message(place) });
                    results[i] = MayStand(alone[i], joint) ? joint : alone[i];
                }
            }

            findings.AddRange(RowFindings.OfShifts([.. row.Select(i => rows[i])], [.. row.Select(i => results[i])], chain));
        }

        RowUnit[] located = [.. rows.Select((unit, i) => new RowUnit(unit, alone[i], results[i] with { ClockShiftSeconds = shift }))];
        findings.AddRange(RowFindings.OfPairs(located));
        return new TogetherResult(located, findings, shift);
    }

    /// <summary>
    /// A claim that the row alone makes possible needs a light that was itself seen to move often enough: the row says where to
    /// look, the light must say that it is so.
    /// </summary>
    private static bool MayStand(LocateResult alone, LocateResult joint) =>
        joint.Claim is not (LocateClaim.Found or LocateClaim.Class) || alone.Claim is LocateClaim.Found or LocateClaim.Class ||
        joint.Fit is { LightChanges: >= LocateRule.FewestMoves };

    /// <summary>
    /// Regions of one recording share their clock: where it is uncertain, the clearest claim sets it, and all others are weighed
    /// again with it.
    /// </summary>
    private static double OneClock(UnitInRow[] rows, LocateResult[] alone)
    {
        int[] open = [.. Enumerable.Range(0, rows.Length).Where(i => rows[i].Question.Trace!.Clock != TraceClock.Shared)];
        int[] claimed = [.. open.Where(i => alone[i].Claim is LocateClaim.Found or LocateClaim.Class)];
        if (claimed.Length == 0)
        {
            return 0;
        }

        int clearest = claimed.MaxBy(i => alone[i].Best!.LogLikelihood);
        double shift = alone[clearest].ClockShiftSeconds;
        foreach (int i in open)
        {
            UnitInRow moved = rows[i] with
            {
                Question = rows[i].Question with { Trace = rows[i].Question.Trace!.Shifted(Duration.FromSeconds(shift)) },
            };
            if (LocateInference.Overlap(moved.Question.Histories, moved.Question.Trace) >= LocateInference.FewestSamples)
            {
                rows[i] = moved;
                alone[i] = i == clearest ? alone[i] : LocateInference.Run(moved.Question);
            }
        }

        return shift;
    }

    /// <summary>The other units, those that were found where they were found.</summary>
    private static OtherUnit[] Found(UnitInRow[] rows, LocateResult[] alone, int own)
    {
        Dictionary<string, int> known = [];
        for (int i = 0; i < rows.Length; i++)
        {
            if (i != own && alone[i].Claim == LocateClaim.Found && alone[i].IsStrict)
            {
                known[rows[i].Name] = i;
            }
        }

        return [.. rows[own].Question.Others.Select(other => known.TryGetValue(other.Name, out int i) && alone[i].Best is { } best
            ? new OtherUnit(other.Name, best.Hypothesis.History, best.Hypothesis.Address, rows[i].Question.Modes[best.Hypothesis.Mode])
            : other)];
    }
}
