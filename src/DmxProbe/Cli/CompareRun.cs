using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;

namespace DmxProbe.Cli;

/// <summary>One run of <c>compare</c>: two inputs in, what differs out.</summary>
/// <param name="Sides">The inputs, in the order given.</param>
/// <param name="Nights">The answer where they are two nights; null: two taps.</param>
/// <param name="Links">The answer where they are two taps, a universe of the second each.</param>
internal sealed record CompareRun(IReadOnlyList<CompareSide> Sides, NightComparison? Nights, IReadOnlyList<LinkComparison> Links)
{
    /// <summary>What the caller is told.</summary>
    public int ExitCode => (Nights?.Differences.Count ?? 0) > 0 || Links.Any(link => link.HasFaults) ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean;

    /// <summary>Runs it.</summary>
    /// <param name="first">The first input.</param>
    /// <param name="second">The second.</param>
    /// <param name="live">How to listen.</param>
    /// <param name="files">What the person says about line recordings.</param>
    /// <param name="asNights">Whether they are two nights; null: by their times.</param>
    /// <param name="sameClock">Whether two taps have one clock; null: by the offset found.</param>
    /// <param name="sheet">The sheet; null: none.</param>
    /// <param name="map">The map as given; null = find it.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <exception cref="UsageException">An input or the map does not serve; one sentence.</exception>
    public static CompareRun Of(
        string first, string second, LiveAsked live, LineFileOptions files, bool? asNights, bool? sameClock, SheetInUse? sheet, string? map, CancellationToken stop)
    {
        CompareSide[] sides;
        if (Inputs.IsLive(first) && Inputs.IsLive(second))
        {
            // Both at once, or they would not be of one moment.
            Task<CompareSide> other = Task.Run(() => CompareSide.Hear(second, live, files, stop));
            CompareSide one = CompareSide.Hear(first, live, files, stop);
            sides = [one, other.GetAwaiter().GetResult()];
        }
        else if (Inputs.IsLive(first))
        {
            CompareSide behind = CompareSide.Hear(second, live, files, stop); // what may refuse at once goes first
            sides = [CompareSide.Hear(first, live, files, stop), behind];
        }
        else
        {
            sides = [CompareSide.Hear(first, live, files, stop), CompareSide.Hear(second, live, files, stop)];
        }

        if (!(asNights ?? AreNights(sides[0], sides[1])))
        {
            return new CompareRun(sides, null, LinkComparer.Compare(sides[0].Tap, sides[1].Tap, sameClock));
        }

        return new CompareRun(sides, NightComparer.Compare(sides[0].Night, sides[0].Survey, sides[1].Night, sides[1].Survey, Units(sheet, map, sides)), []);
    }

    // Recordings of one moment overlap in time; a line recording has no date and can only be a tap.
    private static bool AreNights(CompareSide one, CompareSide other) =>
        !one.Tap.HasSampleClock && !other.Tap.HasSampleClock && (one.Last < other.First || other.Last < one.First);

    private static NightUnit[] Units(SheetInUse? sheet, string? given, CompareSide[] sides)
    {
        if (sheet is null)
        {
            return [];
        }

        UniverseMap map = given is not null
            ? UniverseMap.Parse(given)
            : UniverseMap.Detect(sheet.Patch.Universes, sides.SelectMany(side => side.Survey.Universes).Select(universe => universe.Id), sheet.Patch.UniverseBase);
        if (map.Wire.Count == 0 || !sheet.Patch.Universes.Any(map.Wire.ContainsKey))
        {
            throw new UsageException($"{sheet.Path}: none of its universes was found in {sides[0].Name} or {sides[1].Name}; say which is which with --map, as in --map 1=artnet:0,2=sacn:2");
        }

        return
        [
            .. sheet.Patch.Units.Where(unit => map.Wire.ContainsKey(unit.Universe)).Select(unit => new NightUnit(
                unit.Unit, map.Wire[unit.Universe], unit.Address, unit.Address + PatchCheck.FootprintOf(unit, sheet.Charts) - 1)),
        ];
    }
}
