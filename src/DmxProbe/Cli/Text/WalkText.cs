using System.Globalization;

using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>walk</c> as text: how far the check is, what does not fit, the moves, the units, what is left.</summary>
internal static class WalkText
{
    private const int MostMoves = 40;
    private const int MostRemarks = 20;
    private const int LabelWidth = 14;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, WalkRun run, SheetInUse sheet, bool all, string? asFound, WallClock clock)
    {
        WalkResult result = run.Result;
        WalkFunction[] due = [.. run.Order.SelectMany(run.ToExercise)];
        int done = due.Count(function => function.Exercised);
        int complete = run.Order.Count(target => run.ToExercise(target).Any() && run.ToExercise(target).All(function => function.Exercised));
        page.Paragraph(
            $"{Figures.Count(done)} of {Figures.Count(due.Length, "function")} exercised; {Figures.Count(complete)} of {Figures.Count(result.Targets.Count, "unit")} complete" +
            (run.Remarks.Count > 0 ? $"; {Figures.Count(run.Remarks.Count, "move does not fit the sheet", "moves do not fit the sheet")}." : "; every move fits the sheet."),
            tone: run.Remarks.Count > 0 ? Tone.Fault : done == due.Length ? Tone.Good : Tone.Plain);
        CutText.Write(page, run.Survey);
        string[] wrong = [.. run.NotRight];
        if (wrong.Length > 0)
        {
            page.Labelled("Not right", $"{string.Join(", ", wrong)}, by your notes; locate finds what a light that does not follow is really reading", LabelWidth, tone: Tone.Fault);
        }

        Remarks(page, run, all, clock);
        Moves(page, run, all, clock);
        Units(page, run);
        NotToBeExercised(page, run);
        page.Blank();
        page.Heading("Evidence");
        page.Paragraph($"{Figures.Count(result.Moves.Count + result.MovesNotListed, "move")} alone or in a group, {Figures.Count(result.MovesInCues)} within cues (a fader that rests {WalkAnalyzer.Rest.TotalMilliseconds:0} ms has been let go; what moves within a cue is not counted as exercised)", indent: 2);
        page.Paragraph("taken as: " + string.Join("; ", sheet.Patch.Universes.Select(universe => run.Map.Wire.TryGetValue(universe, out Analysis.Decoding.UniverseId wire)
            ? $"sheet universe {universe} is {wire.Label}"
            : $"sheet universe {universe} is not in the capture (--map says which it is)")), indent: 2);
        page.Paragraph("sheet read as: " + RecognitionText.InOneLine(sheet.Recognition), indent: 2);
        if (asFound is not null)
        {
            page.Paragraph($"the sheet as found is in {asFound}", indent: 2);
        }
    }

    private static void Remarks(TextPage page, WalkRun run, bool all, WallClock clock)
    {
        if (run.Remarks.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Does not fit");
        foreach (WalkRemark remark in run.Remarks.Take(all ? int.MaxValue : MostRemarks))
        {
            page.Labelled(clock.Time(remark.Move.From), remark.Text, LabelWidth, tone: Tone.Fault);
        }

        More(page, run.Remarks.Count - MostRemarks, "move", all);
    }

    private static void Moves(TextPage page, WalkRun run, bool all, WallClock clock)
    {
        WalkResult result = run.Result;
        if (result.Moves.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Moved, one fader or one group at a time");
        WalkMove[][] lines = [.. result.Moves.GroupBy(move => Line(result, move)).Select(line => line.ToArray())];
        foreach (WalkMove[] moves in lines.Take(all ? int.MaxValue : MostMoves))
        {
            WalkMove move = moves[0];
            int others = move.Others + 1 - moves.Length;
            page.Labelled(clock.Time(move.From), Line(result, moves) + (others > 0 ? $", with {Figures.Count(others, "other")}" : ""), LabelWidth);
        }

        More(page, lines.Length - MostMoves, "line", all);
    }

    /// <summary>A move in words: whose function, from where to where, what that means. Holds untrusted text.</summary>
    public static string Move(WalkResult result, WalkMove move) => Line(result, [move]);

    private static string Line(WalkResult result, WalkMove[] moves)
    {
        WalkMove move = moves[0];
        string what = move.Functions.Count == 0
            ? string.Create(CultureInfo.InvariantCulture, $"slot {move.Slot} of {move.Universe.Label}, no unit")
            : moves.Length > 1
                ? $"{result.Functions[move.Functions[0]].Name} of {string.Join(", ", moves.SelectMany(each => each.Functions).Select(function => result.Targets[result.Functions[function].Target].Unit.Unit))}"
                : string.Join(" and ", move.Functions.Select(function => $"{result.Targets[result.Functions[function].Target].Unit.Unit} {result.Functions[function].Name}"));
        return $"{what}: {Values(move)}{Meaning(result, move)}";
    }

    /// <summary>Moves of one function that begin together and go the same way are one line.</summary>
    private static (string Function, long From, int Last, int Highest, WalkMove? Own) Line(WalkResult result, WalkMove move) =>
        move.Kind == MoveKind.Together && move.Functions.Count > 0
            ? (result.Functions[move.Functions[0]].Name, move.From.UnixNanoseconds, move.Last, move.Highest, null)
            : ("", 0, 0, 0, move);

    private static string Values(WalkMove move)
    {
        int between = move.Highest > Math.Max(move.First, move.Last) ? move.Highest : move.Lowest < Math.Min(move.First, move.Last) ? move.Lowest : -1;
        return between < 0 ? string.Create(CultureInfo.InvariantCulture, $"{move.First} to {move.Last}")
            : move.First == move.Last ? string.Create(CultureInfo.InvariantCulture, $"{move.First} to {between} and back to {move.Last}")
            : string.Create(CultureInfo.InvariantCulture, $"{move.First} to {between}, then {move.Last}");
    }

    private static string Meaning(WalkResult result, WalkMove move)
    {
        ChartRange? range = move.Functions.Count == 0 ? null
            : result.Functions[move.Functions[0]].Chart?.Ranges.FirstOrDefault(known => move.Last >= known.From && move.Last <= known.To);
        return range is null ? ""
            : range.Effect == RangeEffect.Proportional
                ? string.Create(CultureInfo.InvariantCulture, $" = {100.0 * (move.Last - range.From) / Math.Max(1, range.To - range.From):0} %")
                : $" = {range.Meaning}";
    }

    private static void Units(TextPage page, WalkRun run)
    {
        page.Blank();
        page.Heading("Units in walking order");
        page.Table(["position", "unit", "address", "exercised", "never exercised"], new HashSet<int>(), run.Order.Select(target =>
        {
            WalkTarget unit = run.Result.Targets[target];
            WalkFunction[] due = [.. run.ToExercise(target)];
            WalkFunction[] left = [.. due.Where(function => !function.Exercised)];
            string never = unit.Mode is null ? "no chart: its functions are not known"
                : left.Length == due.Length && due.Length > 0 ? "everything"
                : string.Join(", ", left.Select(function => function.Name));
            string ranges = string.Join("; ", due.Where(function => function.Exercised && function.Visited.Count > 1 && function.Visited.Contains(false))
                .Select(function => $"{function.Name} without {string.Join(", ", function.Chart!.Ranges.Where((range, index) => !function.Visited[index] && !Seen(function, range)).Select(range => $"'{range.Meaning}'").Distinct())}")
                .Where(text => !text.EndsWith("without ", StringComparison.Ordinal)));
            return new[]
            {
                unit.Unit.Position,
                unit.Unit.Unit,
                string.Create(CultureInfo.InvariantCulture, $"{unit.Unit.Universe}.{unit.Unit.Address:000}"),
                $"{due.Length - left.Length} of {due.Length}",
                string.Join("; ", new[] { never, ranges }.Where(text => text.Length > 0)),
            };
        }));
    }

    // A chart may name one meaning twice (open at both ends): seen once is seen.
    private static bool Seen(WalkFunction function, ChartRange range) =>
        function.Chart!.Ranges.Where((other, index) => function.Visited[index] && other.Meaning.Equals(range.Meaning, StringComparison.OrdinalIgnoreCase)).Any();

    private static void NotToBeExercised(TextPage page, WalkRun run)
    {
        (string Unit, WalkFunction[] Functions)[] dangerous =
        [
            .. run.Order.Where(target => run.Result.Targets[target].Mode is not null)
                .Select(target => (run.Result.Targets[target].Unit.Unit, run.Result.Functions.Where(function => function.Target == target && function.Danger.Length > 0).ToArray()))
                .Where(pair => pair.Item2.Length > 0),
        ];
        if (dangerous.Length == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Not to be exercised");
        foreach ((string unit, WalkFunction[] functions) in dangerous)
        {
            page.Paragraph($"{unit}: {string.Join(", ", functions.Select(function => $"{function.Name} ({function.Danger}{(function.Exercised || function.InCue > 0 ? "; it moved" : "")})"))}", indent: 2);
        }
    }

    private static void More(TextPage page, int more, string what, bool all)
    {
        if (!all && more > 0)
        {
            page.Paragraph($"and {Figures.Count(more, what)} more (--all shows all)", indent: 2);
        }
    }
}
