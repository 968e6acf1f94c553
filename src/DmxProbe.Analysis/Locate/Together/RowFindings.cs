namespace DmxProbe.Analysis.Locate.Together;

/// <summary>What several located units have in common.</summary>
internal static class RowFindings
{
    private const double Sure = 0.99;
    private const int Fewest = 2;
    private const int FewestUnclaimed = 3; // where none of them moved often enough for a claim about itself
    private const double SureUnclaimed = LocateRule.HighestPrinted;
    private const int FewestUnusual = 3; // where no mode and no counting from another number explains the shift

    /// <summary>Shifts that hold for several units of a row.</summary>
    public static IEnumerable<RowFinding> OfShifts(UnitInRow[] units, LocateResult[] results, RowChain chain)
    {
        int from = 0;
        for (int to = 1; to <= units.Length; to++)
        {
            if (to < units.Length && chain.Path[to] == chain.Path[from])
            {
                continue;
            }

            RowShift shift = chain.Path[from];
            int[] run = [.. Enumerable.Range(from, to - from).Where(i => chain.Speaks[i] && Follows(units[i], results[i], shift))];
            bool asOnSheet = shift == new RowShift(units[from].History, 0);
            if (run.Length >= Fewest && !asOnSheet)
            {
                double confidence = Math.Min(run.Min(i => chain.At(i, shift)), LocateRule.HighestPrinted);
                RowFinding finding = Of(units, results, chain, from, run, shift, confidence);
                int claimed = run.Count(i => results[i].Claim is LocateClaim.Found or LocateClaim.Class);
                bool isUsual = finding.Culprit is not null || (finding.Kind == RowFindingKind.ShiftedAll && Math.Abs(shift.Slots) == 1);
                bool several = run.Length >= FewestUnclaimed && confidence >= SureUnclaimed && isUsual;
                if (several || (confidence >= Sure && claimed >= (isUsual ? Fewest : FewestUnusual)))
                {
                    yield return finding;
                }
            }

            from = to;
        }
    }

    /// <summary>Twins, swapped units, and units that cannot be told apart.</summary>
    public static IEnumerable<RowFinding> OfPairs(RowUnit[] units)
    {
        RowUnit[] found = [.. units.Where(unit => unit.Result.Claim == LocateClaim.Found)];
        foreach (RowUnit[] same in found.GroupBy(unit => (unit.Result.Best!.Hypothesis.History, unit.Result.Best.Hypothesis.Address)).Select(group => group.ToArray()))
        {
            if (same.Length > 1 && !same.Skip(1).All(unit => unit.Unit.SharesWith.Contains(same[0].Unit.Name) || same[0].Unit.SharesWith.Contains(unit.Unit.Name)))
            {
                yield return Pair(RowFindingKind.Twins, same);
            }
        }

        for (int i = 0; i < found.Length; i++)
        {
            for (int j = i + 1; j < found.Length; j++)
            {
                if (found[i].Unit.Question.Modes[0].Footprint > 0 && Reads(found[i], found[j].Unit) && Reads(found[j], found[i].Unit) &&
                    !Reads(found[i], found[i].Unit))
                {
                    yield return Pair(RowFindingKind.Swapped, [found[i], found[j]]);
                }
            }
        }

        RowUnit[] open = [.. units.Where(unit => unit.Result.Claim == LocateClaim.Class)];
        foreach (RowUnit[] alike in open.GroupBy(unit => string.Join(' ', unit.Result.ClassMembers.Select(member => (member.Hypothesis.History * 1000) + member.Hypothesis.Address).Order().Distinct())).Select(group => group.ToArray()))
        {
            if (alike.Length > 1)
            {
                yield return Pair(RowFindingKind.Alike, alike);
            }
        }
    }

    private static RowFinding Of(UnitInRow[] units, LocateResult[] results, RowChain chain, int from, int[] run, RowShift shift, double confidence)
    {
        string[] names = [.. run.Select(i => units[i].Name)];
        if (shift.History != units[from].History)
        {
            return new RowFinding(RowFindingKind.OtherUniverse, names, shift, null, -1, confidence);
        }

        bool all = from == 0 || !Enumerable.Range(0, from).Any(i => chain.Speaks[i]);
        if (all)
        {
            return new RowFinding(RowFindingKind.ShiftedAll, names, shift, null, -1, confidence);
        }

        // Units between the last that speaks for the old shift and the first that speaks for the new one may all be the cause.
        int step = shift.Slots - chain.Path[from - 1].Slots;
        string? culprit = null;
        int culpritMode = -1;
        for (int i = from - 1; i >= 0 && culprit is null; i--)
        {
            int mode = units[i].Question.Modes.ToList().FindIndex(each => each.Footprint - units[i].Question.Modes[0].Footprint == step);
            if (step != 0 && mode > 0)
            {
                (culprit, culpritMode) = (units[i].Name, mode);
            }

            if (chain.Speaks[i] && results[i].Claim is LocateClaim.Found or LocateClaim.Class)
            {
                break;
            }
        }

        return new RowFinding(RowFindingKind.ShiftedFrom, names, shift with { Slots = step }, culprit, culpritMode, confidence);
    }

    private static bool Follows(UnitInRow unit, LocateResult result, RowShift shift) =>
        result.ClassMembers.Any(member => member.Hypothesis.History == shift.History && member.Hypothesis.Address - unit.Address == shift.Slots);

    private static bool Reads(RowUnit unit, UnitInRow place) =>
        unit.Result.Best!.Hypothesis.History == place.History && unit.Result.Best.Hypothesis.Address == place.Address;

    private static RowFinding Pair(RowFindingKind kind, RowUnit[] units) => new(
        kind, [.. units.Select(unit => unit.Unit.Name)], new RowShift(units[0].Result.Best!.Hypothesis.History, 0), null, -1, units.Min(unit => unit.Result.Confidence));
}
