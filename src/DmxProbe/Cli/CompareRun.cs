using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>One run of <c>compare</c>: two inputs in, what differs out.</summary>
/// <param name="Sides">The inputs, in the order given.</param>
/// <param name="Nights">The answer where they are two nights; null: two taps.</param>
/// <param name="Links">The answer where they are two taps, a universe of the second each.</param>
internal sealed record CompareRun(IReadOnlyList<CompareSide> Sides, NightComparison? Nights, IReadOnlyList<LinkComparison> Links)
{
    /// <summary>What the caller is told.</summary>
    public int ExitCode => (Nights?.Differences.Count ?? 0) > 0 || Links.Any(link => link.HasFaults) ? Cli.ExitCode.FaultsFound
        : Nights?.IsCompared ?? Links.Count > 0 ? Sides.Any(side => side.Survey.IsCut) ? Cli.ExitCode.FaultsFound : Cli.ExitCode.Clean
        : Cli.ExitCode.CouldNotRun; // "nothing differs" is not said of what was not compared

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
        CompareSide[] sides = CompareSide.HearBoth(first, second, live, files, stop);
        (bool areNights, string because) = Kind(sides, asNights);
        CompareRun run = new(sides, null, [])
        {
            Because = because,
            Warnings = [.. Doubts(sides, areNights)],
        };
        if (areNights)
        {
            return run with { Nights = NightComparer.Compare(sides[0].Night, sides[0].Survey, sides[1].Night, sides[1].Survey, Units(sheet, map, sides)) };
        }

        LinkComparison[] links = [.. LinkComparer.Compare(sides[0].Tap, sides[1].Tap, sameClock).OrderBy(link => link.HasFaults ? 0 : 1)];
        return run with { Links = links, Warnings = [.. run.Warnings, .. Leads(sides, links)] };
    }

    // What comes out cannot be there before it goes in.
    private static IEnumerable<string> Leads(CompareSide[] sides, LinkComparison[] links)
    {
        Duration lead = links.Select(link => link.Lead).DefaultIfEmpty(Duration.Zero).Max();
        if (lead > Duration.Zero)
        {
            yield return $"{sides[1].Name} shows changes {Figures.Time(lead)} before {sides[0].Name} does: they may be the wrong way round (name the tap before the link first), or their clocks differ.";
        }
    }

    /// <summary>Why they were taken for two nights, or for two taps.</summary>
    public string Because { get; init; } = "";

    /// <summary>What makes one doubt that the right things were compared, a sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    // Recordings of one moment overlap in time; a line recording has no date and can only be a tap.
    private static (bool AreNights, string Because) Kind(CompareSide[] sides, bool? asked)
    {
        (CompareSide one, CompareSide other) = (sides[0], sides[1]);
        return asked is bool said ? (said, "as --as says")
            : one.Tap.HasSampleClock || other.Tap.HasSampleClock ? (false, "because a recording of a line has no date (--as nights if they are two nights)")
            : one.Last < other.First || other.Last < one.First ? (true, "because their times lie apart (--as taps if they are of one moment)")
            : (false, "because their times overlap (--as nights if they are two nights)");
    }

    private static IEnumerable<string> Doubts(CompareSide[] sides, bool areNights)
    {
        (CompareSide one, CompareSide other) = (sides[0], sides[1]);
        if (!one.IsLive && Path.GetFullPath(one.Name) == Path.GetFullPath(other.Name))
        {
            yield return "Both are the same recording, so nothing can differ.";
        }
        else if (areNights && !one.Tap.HasSampleClock && !other.Tap.HasSampleClock && one.First > other.Last)
        {
            yield return $"{one.Name} is later than {other.Name}, and is taken for last night because it is named first; to turn them round, name {other.Name} first.";
        }
    }

    private static NightUnit[] Units(SheetInUse? sheet, string? given, CompareSide[] sides)
    {
        if (sheet is null)
        {
            return [];
        }

        UniverseMap map = UniverseMap.Detect(
            sheet.Patch.Universes,
            sides.SelectMany(side => side.Survey.Universes).Select(universe => universe.Id),
            sheet.Patch.UniverseBase,
            UniverseMap.Given(given, sheet.Patch));
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
