using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>What a sheet says about its cable chains that cannot be built so.</summary>
internal static class ChainCheck
{
    public static void Add(PatchSheet sheet, List<PatchFinding> findings)
    {
        PatchChains chains = new(sheet);
        foreach (IGrouping<string, PatchUnit> chain in sheet.Units.Where(unit => unit.Chain.Length > 0).GroupBy(unit => chains.Of(unit).Chain, StringComparer.OrdinalIgnoreCase))
        {
            PatchUnit[] units = [.. chain];
            IGrouping<int, PatchUnit>[] universes = [.. units.GroupBy(unit => unit.Universe).OrderByDescending(same => same.Count())];
            if (universes.Length > 1)
            {
                PatchUnit odd = universes[^1].First();
                findings.Add(new PatchFinding(PatchCheck.ChainOfTwoUniverses, PatchSeverity.Warning, [.. universes.Skip(1).SelectMany(same => same).Select(unit => unit.Unit)],
                    $"chain {Shown.Quoted(chain.Key)} has units of universes {string.Join(" and ", universes.Select(same => same.Key).Order().Take(8).Select(Shown.Number))}; one cable carries one universe",
                    $"check the universe or the chain of {Shown.Quoted(odd.Unit)} first: it is one of the fewest", odd.Line));
            }

            foreach (IGrouping<int, PatchUnit> place in units.Where(unit => chains.Of(unit).Order > 0).GroupBy(unit => chains.Of(unit).Order).Where(place => place.Count() > 1))
            {
                PatchUnit[] both = [.. place.Take(3)];
                findings.Add(new PatchFinding(PatchCheck.ChainOrderTwice, PatchSeverity.Warning, [.. place.Select(unit => unit.Unit)],
                    $"place {Shown.Number(place.Key)} of chain {Shown.Quoted(chain.Key)} is given to {string.Join(" and ", both.Select(unit => Shown.Quoted(unit.Unit)))}{(place.Count() > both.Length ? " and more" : "")}",
                    "number the units in the order of the cable", both[^1].Line));
            }

            int receivers = units.Select(unit => chains.Of(unit).Order > 0 ? $"{chains.Of(unit).Order}" : unit.Unit).Distinct(StringComparer.OrdinalIgnoreCase).Count();
            if (receivers > PatchCheck.MostOnSegment)
            {
                findings.Add(new PatchFinding(PatchCheck.ChainTooLong, PatchSeverity.Warning, [.. units.Select(unit => unit.Unit)],
                    $"chain {Shown.Quoted(chain.Key)} has {Shown.Number(receivers)} units; one segment carries {Shown.Number(PatchCheck.MostOnSegment)} unit loads",
                    "put a splitter in, or check that the receivers load the line less than one unit load each", units[0].Line));
            }
        }
    }
}
