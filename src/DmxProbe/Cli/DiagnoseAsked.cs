using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>What a run of <c>diagnose</c> is asked.</summary>
/// <param name="Bad">The bad units, as the sheet names them.</param>
/// <param name="Said">What the person said; empty when nothing.</param>
/// <param name="Map">The map of universes as given; null = find it.</param>
internal sealed record DiagnoseAsked(IReadOnlyList<string> Bad, string Said, string? Map)
{
    private const int MostBad = 512;
    private const int LongestSaid = 500;

    /// <summary>Reads what was asked.</summary>
    /// <param name="bad">The values of <c>--bad</c>, names parted by commas.</param>
    /// <param name="said">The value of <c>--said</c>.</param>
    /// <param name="map">The value of <c>--map</c>.</param>
    /// <param name="sheet">The sheet; null when there is none.</param>
    /// <exception cref="UsageException">A unit is not on the sheet, or there is no sheet.</exception>
    public static DiagnoseAsked Of(string[] bad, string? said, string? map, PatchSheet? sheet)
    {
        if (sheet is null && (bad.Length > 0 || map is not null))
        {
            throw new UsageException($"{(bad.Length > 0 ? "--bad names units" : "--map maps universes")} of a patch sheet, and none is given; name it with --patch");
        }

        if (said is { Length: > LongestSaid })
        {
            throw new UsageException($"--said: expected a few words, at most {LongestSaid} characters, found {said.Length}");
        }

        List<string> names = [];
        foreach (string part in bad)
        {
            // A name may itself hold a comma: the whole is tried first.
            string[] each = sheet!.Find(part.Trim()) is not null ? [part] : part.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            foreach (string name in each)
            {
                PatchUnit unit = Named(sheet!, name.Trim());
                string known = unit.Unit;
                if (!ReferenceEquals(sheet!.Find(known), unit))
                {
                    throw new UsageException($"--bad: the sheet has several units '{known}', and here units are told apart by name; give each a name of its own");
                }

                if (!names.Contains(known, StringComparer.OrdinalIgnoreCase))
                {
                    names.Add(known);
                }
            }
        }

        return bad.Length > 0 && names.Count == 0 ? throw new UsageException("--bad: expected names of units, as in --bad LX1-6,LX1-7, found none")
            : names.Count > MostBad ? throw new UsageException($"--bad: expected at most {MostBad} units, found {names.Count}")
            : new DiagnoseAsked(names, said?.Trim() ?? "", map);
    }

    private static PatchUnit Named(PatchSheet sheet, string name) =>
        sheet.FindAll(name).Count == 0 && name.Contains(" to ", StringComparison.OrdinalIgnoreCase)
            ? throw new UsageException($"the sheet has no unit '{name}'; --bad takes no range: name each unit, parted by commas, as in --bad LX1-6,LX1-7")
            : LocateRun.UnitOf(sheet, name, "--bad");
}
