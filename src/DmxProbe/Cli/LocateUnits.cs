using System.Globalization;

using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>The list after <c>--units</c>: <c>LX1-1,LX1-2=3</c>, a unit and its region of the trace, or <c>all</c>.</summary>
internal static class LocateUnits
{
    /// <summary>Reads it.</summary>
    /// <param name="text">The list; a unit without a region has the region that bears its name.</param>
    /// <param name="patch">The sheet.</param>
    /// <param name="regions">The regions of the trace.</param>
    /// <param name="traceName">The trace as the person named it.</param>
    /// <exception cref="UsageException">A unit or region is not there or comes twice; one sentence.</exception>
    public static List<(PatchUnit Unit, string Region)> Parse(string text, PatchSheet patch, IReadOnlyList<string> regions, string traceName)
    {
        if (regions.Count == 0)
        {
            throw new UsageException($"{traceName}: --units needs a trace with a region column, one region for each unit; for a trace of one light use --unit");
        }

        List<(PatchUnit Unit, string Region)> asked = text.Trim() == "all"
            ? [.. patch.Units.Where(unit => regions.Contains(unit.Unit)).Select(unit => (unit, unit.Unit))]
            : [.. Items(text).Select(item => Pair(item, patch, regions, traceName))];
        if (asked.Count == 0)
        {
            throw new UsageException($"{traceName}: no region bears the name of a unit on the sheet; it has {Listed(regions)}; say which is which: --units UNIT=REGION,UNIT=REGION");
        }

        if (asked.GroupBy(pair => pair.Unit.Unit).FirstOrDefault(group => group.Count() > 1) is { } unitTwice)
        {
            throw new UsageException($"--units: '{unitTwice.Key}' is named twice; give each unit one region");
        }

        if (asked.GroupBy(pair => pair.Region).FirstOrDefault(group => group.Count() > 1) is { } regionTwice)
        {
            throw new UsageException($"--units: region '{regionTwice.Key}' is given to {string.Join(" and ", regionTwice.Select(pair => $"'{pair.Unit.Unit}'"))}; give each unit its own");
        }

        return asked.Count <= TogetherInference.MostUnits ? asked
            : throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--units: expected at most {TogetherInference.MostUnits} units, found {asked.Count}; locate the others in a second run"));
    }

    private static string[] Items(string text) => text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static (PatchUnit Unit, string Region) Pair(string item, PatchSheet patch, IReadOnlyList<string> regions, string traceName)
    {
        // A name may hold the sign itself.
        int sign = patch.Find(item) is null ? item.LastIndexOf('=') : -1;
        PatchUnit unit = LocateRun.UnitOf(patch, sign < 0 ? item : item[..sign].Trim(), "--units");
        string region = sign < 0 ? unit.Unit : item[(sign + 1)..].Trim();
        return regions.Contains(region) ? (unit, region)
            : throw new UsageException($"{traceName}: the trace has no region '{region}' for '{unit.Unit}'; it has {Listed(regions)}; say which is which: --units {unit.Unit}=REGION");
    }

    private static string Listed(IReadOnlyList<string> regions)
    {
        const int Most = 8;
        return string.Join(", ", regions.Take(Most).Select(region => $"'{region}'")) +
            (regions.Count > Most ? string.Create(CultureInfo.InvariantCulture, $" and {regions.Count - Most} more") : "");
    }
}
