using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>walk</c>: capture, sheet and charts in, what was moved out.</summary>
/// <param name="Result">What was moved.</param>
/// <param name="Remarks">What does not fit the sheet.</param>
/// <param name="Order">The units in walking order.</param>
/// <param name="Map">Which universe of the wire each universe of the sheet is.</param>
/// <param name="Survey">The survey of the same capture.</param>
internal sealed record WalkRun(WalkResult Result, IReadOnlyList<WalkRemark> Remarks, IReadOnlyList<int> Order, UniverseMap Map, SurveySnapshot Survey)
{
    /// <summary>What the person said, oldest first.</summary>
    public IReadOnlyList<WalkNote> Notes { get; init; } = [];

    /// <summary>Units of which the person's last word is that they were not right.</summary>
    public IEnumerable<string> NotRight => Notes.Where(note => note.Look is WalkNote.AllRight or WalkNote.NotRight).GroupBy(note => note.Unit)
        .Where(unit => unit.Last().Look == WalkNote.NotRight).Select(unit => unit.Key);

    /// <summary>What the caller is told: a fault is a move that does not fit the sheet, or a unit that was not right; or an input was not read to its end.</summary>
    public int ExitCode => Remarks.Count > 0 || NotRight.Any() || Survey.IsCut ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

    /// <summary>The functions of a unit that are to be exercised.</summary>
    public IEnumerable<WalkFunction> ToExercise(int target) =>
        Result.Functions.Where(function => function.Target == target && function.Danger.Length == 0 && !function.DoesNothing);

    /// <summary>Runs it.</summary>
    /// <param name="source">The capture, read twice: once for its universes, once for the moves.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="notes">Reads the notes, once the first record is known; null for none.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <param name="isOnce">Whether the capture can be read once only: a pipe or a live input.</param>
    /// <exception cref="UsageException">The capture or the map does not serve; one sentence.</exception>
    public static WalkRun Of(Func<ICaptureSource> source, SheetInUse sheet, string? map, Func<Timestamp, IReadOnlyList<WalkNote>>? notes, CancellationToken stop, bool isOnce = false)
    {
        // With a map given one reading is enough, as it must be for a pipe or a live input: what it leaves is not looked for there.
        UniverseMap? given = UniverseMap.Given(map, sheet.Patch);
        UniverseMap? known = given;
        if (given is null || (!isOnce && !sheet.Patch.Universes.All(given.Wire.ContainsKey)))
        {
            using ICaptureSource first = source();
            SurveySnapshot universes = Surveyor.Run(first, stop);
            stop.ThrowIfCancellationRequested();
            NoRecords.Refuse(universes.Inputs, "tick off");
            known = UniverseMap.Of(sheet.Patch, universes.Universes.Select(universe => universe.Id), given);
        }

        WalkTarget[] targets = Targets(sheet, known!);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        WalkAnalyzer walk = new(targets);
        using ICaptureSource capture = source();
        SurveySnapshot survey = Surveyor.Run(capture, decoder, surveyor, new FanOut(surveyor, walk), stop);
        stop.ThrowIfCancellationRequested();
        NoRecords.Refuse(survey.Inputs, "tick off");
        Timestamp start = survey.First!.Value;
        if (survey.Universes.Count == 0)
        {
            throw new UsageException($"{capture.Name}: no Art-Net or sACN levels in this capture, so nothing can be ticked off; capture where the lighting network passes");
        }

        WalkResult result = walk.Snapshot();
        IReadOnlyList<WalkNote> said = notes?.Invoke(start) ?? [];
        return new WalkRun(result, WalkReview.Remarks(result, said), WalkReview.Order(result), known!, survey) { Notes = said };
    }

    /// <summary>The units to be walked.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="map">Which universe of the wire each universe of the sheet is.</param>
    public static WalkTarget[] Targets(SheetInUse sheet, UniverseMap map) =>
    [
        .. sheet.Patch.Units.Select(unit => new WalkTarget(
            unit,
            map.Wire.TryGetValue(unit.Universe, out UniverseId wire) ? wire : null,
            sheet.Charts.Find(unit.Type, unit.Mode),
            PatchCheck.FootprintOf(unit, sheet.Charts))),
    ];

    /// <summary>The sheet as found: every unit in walking order, with what was exercised in its note.</summary>
    public IEnumerable<PatchUnit> AsFound()
    {
        foreach (int target in Order)
        {
            PatchUnit unit = Result.Targets[target].Unit;
            WalkFunction[] functions = [.. ToExercise(target)];
            string found = functions.Length == 0 ? "as found: nothing to exercise"
                : string.Create(CultureInfo.InvariantCulture, $"as found: {functions.Count(function => function.Exercised)} of {functions.Length} functions moved");
            string note = unit.Note.StartsWith("as found: ", StringComparison.Ordinal) ? "" : unit.Note;
            int end = unit.Note.IndexOf(" | ", StringComparison.Ordinal);
            note = note.Length == 0 && end >= 0 ? unit.Note[(end + 3)..] : note;
            yield return unit with { Note = note.Length == 0 ? found : $"{found} | {note}"[..Math.Min(500, found.Length + 3 + note.Length)] };
        }
    }
}
