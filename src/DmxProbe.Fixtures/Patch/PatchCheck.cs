using System.Globalization;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>Checks a sheet by itself, against the charts, and against what a capture carries. A pure function.</summary>
public static class PatchCheck
{
    /// <summary>Two units take the same slots.</summary>
    public const string AddressOverlap = "address-overlap";

    /// <summary>A unit's last slots would be past slot 512.</summary>
    public const string FootprintPast512 = "footprint-past-512";

    /// <summary>Two units of one name.</summary>
    public const string DuplicateUnit = "duplicate-unit";

    /// <summary>A unit's name holds characters that do not show.</summary>
    public const string HiddenCharacters = "hidden-characters";

    /// <summary>Two units on one address without the sheet saying so, or units said to share that do not agree.</summary>
    public const string SharedAddress = "shared-address";

    /// <summary>No chart for the type.</summary>
    public const string UnknownType = "unknown-type";

    /// <summary>The type has no such mode.</summary>
    public const string UnknownMode = "unknown-mode";

    /// <summary>The capture does not hold the universe.</summary>
    public const string UniverseNotCaptured = "universe-not-captured";

    /// <summary>The capture holds something of the universe, and no levels.</summary>
    public const string UniverseWithoutLevels = "universe-without-levels";

    /// <summary>The unit needs slots that are not sent.</summary>
    public const string BeyondSlotsSent = "beyond-slots-sent";

    /// <summary>The sheet says another number of slots than the chart of the mode.</summary>
    public const string FootprintDiffers = "footprint-differs";

    /// <summary>Every unit of a type overlaps the next by the same number of slots: one footprint is wrong, not many addresses.</summary>
    public const string SpacingTooNarrow = "spacing-too-narrow";

    /// <summary>One cable chain with units of several universes.</summary>
    public const string ChainOfTwoUniverses = "chain-of-two-universes";

    /// <summary>Two units at one place of a chain.</summary>
    public const string ChainOrderTwice = "chain-order-twice";

    /// <summary>More units on one chain than a segment may load.</summary>
    public const string ChainTooLong = "chain-too-long";

    /// <summary>Unit loads that one segment may carry (ANSI/TIA-485, as quoted by trade pages; common practice here).</summary>
    public const int MostOnSegment = 32;

    /// <summary>Most findings of one check; a sheet with more needs another cure.</summary>
    public const int MaxFindings = 500;

    /// <summary>Near names are searched for the first few only: on a large sheet the search is the slow part.</summary>
    private const int MaxOffers = 20;

    /// <summary>Checks a sheet.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="charts">The charts at hand.</param>
    /// <param name="captured">By sheet universe, what a capture says; universes that are not in it are not held against a capture. Null when there is no capture.</param>
    /// <returns>What is wrong, in the order of the sheet's lines; at most <see cref="MaxFindings"/>.</returns>
    public static IReadOnlyList<PatchFinding> Check(PatchSheet sheet, ChartSet charts, IReadOnlyDictionary<int, UniverseFacts>? captured = null)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        List<PatchFinding> findings = [];
        CheckNames(sheet, findings);
        CheckTypes(sheet, charts, findings);
        CheckFootprints(sheet, charts, findings);
        CheckShares(sheet, findings);
        CheckPlaces(sheet, charts, findings);
        SpacingCheck.Fold(sheet, charts, findings);
        ChainCheck.Add(sheet, findings);
        CheckCapture(sheet, charts, captured, findings);
        return [.. findings.OrderBy(finding => finding.Line).Take(MaxFindings)];
    }

    /// <summary>Address of a unit as it is printed: <c>1.061</c>.</summary>
    internal static string Place(PatchUnit unit) => string.Create(CultureInfo.InvariantCulture, $"{unit.Universe}.{unit.Address:000}");

    /// <summary>How many slots a unit takes: by its chart, else by the sheet, else 1, the least it can take.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="charts">The charts at hand.</param>
    public static int FootprintOf(PatchUnit unit, ChartSet charts)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(charts);
        return charts.Find(unit.Type, unit.Mode)?.Footprint ?? Math.Max(1, unit.StatedFootprint);
    }

    private static void CheckFootprints(PatchSheet sheet, ChartSet charts, List<PatchFinding> findings)
    {
        foreach (PatchUnit unit in sheet.Units.Where(unit => unit.StatedFootprint > 0))
        {
            if (charts.Find(unit.Type, unit.Mode) is { } mode && mode.Footprint != unit.StatedFootprint)
            {
                string[] others = [.. charts.Find(unit.Type)!.Modes.Where(other => other.Footprint == unit.StatedFootprint).Select(other => Shown.Quoted(other.Name)).Take(3)];
                findings.Add(new PatchFinding(FootprintDiffers, PatchSeverity.Fault, [unit.Unit],
                    $"unit {Shown.Quoted(unit.Unit)} takes {Shown.Number(unit.StatedFootprint)} slots by the sheet, {Shown.Number(mode.Footprint)} by the chart of mode {Shown.Quoted(mode.Name)}",
                    others.Length > 0 ? $"the chart has {Shown.Number(unit.StatedFootprint)} slots in mode {string.Join(" or ", others)}: correct the mode, or the sheet's number of slots" : "correct the mode, or the sheet's number of slots", unit.Line));
            }
        }
    }

    private static void CheckNames(PatchSheet sheet, List<PatchFinding> findings)
    {
        foreach (PatchUnit unit in sheet.Units)
        {
            if (unit.Unit.EnumerateRunes().Any(Shown.IsHidden))
            {
                findings.Add(new PatchFinding(HiddenCharacters, PatchSeverity.Fault, [unit.Unit],
                    $"the name of unit {Shown.Quoted(unit.Unit)} holds characters that do not show: nobody can type it, and it looks like another",
                    "type the name anew on the sheet", unit.Line));
            }

            PatchUnit first = sheet.Find(unit.Unit)!;
            if (!ReferenceEquals(first, unit))
            {
                findings.Add(new PatchFinding(DuplicateUnit, PatchSeverity.Fault, [unit.Unit],
                    $"unit {Shown.Quoted(unit.Unit)} is on the sheet twice, on lines {Shown.Number(first.Line)} and {Shown.Number(unit.Line)}",
                    "give each unit a name of its own; asked for by this name, neither is taken without its line", unit.Line));
            }
        }
    }

    private static void CheckTypes(PatchSheet sheet, ChartSet charts, List<PatchFinding> findings)
    {
        Dictionary<(string, string), (string Id, string Text, string Action)?> known = [];
        int offers = MaxOffers;
        foreach (PatchUnit unit in sheet.Units)
        {
            if (!known.TryGetValue((unit.Type, unit.Mode + "/" + Shown.Number(unit.StatedFootprint)), out (string Id, string Text, string Action)? problem))
            {
                known[(unit.Type, unit.Mode + "/" + Shown.Number(unit.StatedFootprint))] = problem = TypeProblem(unit, charts, offer: offers > 0);
                offers -= problem is null ? 0 : 1;
            }

            if (problem is var (id, text, action))
            {
                findings.Add(new PatchFinding(id, PatchSeverity.Fault, [unit.Unit], $"unit {Shown.Quoted(unit.Unit)}: {text}", action, unit.Line));
            }
        }
    }

    private static string Taken(PatchUnit unit) =>
        unit.StatedFootprint > 0 ? $"{Shown.Number(unit.StatedFootprint)} slots as the sheet says" : "1 slot";

    private static (string Id, string Text, string Action)? TypeProblem(PatchUnit unit, ChartSet charts, bool offer)
    {
        if (charts.Find(unit.Type) is not { } chart)
        {
            string near = offer ? Nearest.Offer(Nearest.Of(unit.Type, charts.Charts.Select(known => known.Type), 3)) : "";
            return (UnknownType, $"there is no chart for type {Shown.Quoted(unit.Type)}; its footprint is taken as {Taken(unit)}",
                near.Length > 0 ? near : "add the chart, or correct the type");
        }

        if (charts.Find(unit.Type, unit.Mode) is not null)
        {
            return null;
        }

        string nearest = !offer || unit.Mode.Length == 0 ? "" : Nearest.Offer(Nearest.Of(unit.Mode, chart.Modes.Select(mode => mode.Name), 3));
        string modes = string.Join(", ", chart.Modes.Take(8).Select(mode => Shown.Quoted(mode.Name))) + (chart.Modes.Count > 8 ? " ..." : "");
        return (UnknownMode, (unit.Mode.Length == 0 ? $"the sheet gives no mode for {Shown.Quoted(unit.Type)}" : $"the chart of {Shown.Quoted(unit.Type)} has no mode {Shown.Quoted(unit.Mode)}") + $"; its footprint is taken as {Taken(unit)}",
            nearest.Length > 0 ? nearest : "the chart has " + modes);
    }

    private static void CheckShares(PatchSheet sheet, List<PatchFinding> findings)
    {
        int before = findings.Count;
        foreach (PatchUnit unit in sheet.Units)
        {
            foreach (string name in unit.SharesWith)
            {
                PatchUnit? other = sheet.Find(name);
                string? text =
                    other is null ? $"unit {Shown.Quoted(unit.Unit)} is said to share with {Shown.Quoted(name)}, which is not on the sheet" :
                    other.Universe != unit.Universe || other.Address != unit.Address ?
                        $"units {Shown.Quoted(unit.Unit)} and {Shown.Quoted(name)} are said to share, but are at {Place(unit)} and {Place(other)}" :
                    !Same(other.Type, unit.Type) || !Same(other.Mode, unit.Mode) ?
                        $"units {Shown.Quoted(unit.Unit)} and {Shown.Quoted(name)} share {Place(unit)}, but are not of one type and mode ({Shown.Quoted(unit.Type)} {Shown.Quoted(unit.Mode)}, {Shown.Quoted(other.Type)} {Shown.Quoted(other.Mode)})" :
                    null;
                if (text is not null)
                {
                    string nearest = other is null && findings.Count - before < MaxOffers ? Nearest.Offer(sheet.NearestNames(name, 3)) : "";
                    findings.Add(new PatchFinding(SharedAddress, PatchSeverity.Warning, [unit.Unit, name], text,
                        nearest.Length > 0 ? nearest : "correct the address, the mode or sharesWith", unit.Line));
                    if (findings.Count - before > MaxFindings)
                    {
                        return;
                    }
                }
            }
        }
    }

    private static bool Same(string a, string b) => a.Equals(b, StringComparison.OrdinalIgnoreCase);

    /// <summary>Sweeps each universe by address. Of a group that shares, the one that reaches furthest stands for all.</summary>
    private static void CheckPlaces(PatchSheet sheet, ChartSet charts, List<PatchFinding> findings)
    {
        ShareGroups groups = new(sheet);
        int before = findings.Count;
        foreach (IGrouping<int, PatchUnit> universe in sheet.Units.GroupBy(unit => unit.Universe))
        {
            List<(PatchUnit Unit, PatchUnit Group, int Last)> open = [];
            foreach (PatchUnit unit in universe.OrderBy(unit => unit.Address))
            {
                int last = unit.Address + FootprintOf(unit, charts) - 1;
                if (last > 512)
                {
                    findings.Add(new PatchFinding(FootprintPast512, PatchSeverity.Fault, [unit.Unit],
                        $"unit {Shown.Quoted(unit.Unit)} at {Place(unit)} takes {Shown.Number(last - unit.Address + 1)} slots and would end at {Shown.Number(last)}, past slot 512",
                        $"move it to address {Shown.Number(512 - (last - unit.Address))}{(last - unit.Address == 511 ? "" : " or lower")}, or to another universe", unit.Line));
                }

                PatchUnit group = groups.Of(unit);
                open.RemoveAll(earlier => earlier.Last < unit.Address);
                foreach ((PatchUnit other, PatchUnit otherGroup, int otherLast) in open)
                {
                    if (!ReferenceEquals(group, otherGroup))
                    {
                        findings.Add(Overlap(unit, other, Math.Min(last, otherLast)));
                        if (findings.Count - before > MaxFindings)
                        {
                            return;
                        }
                    }
                }

                int same = open.FindIndex(earlier => ReferenceEquals(earlier.Group, group));
                if (same < 0)
                {
                    open.Add((unit, group, last));
                }
                else if (open[same].Last < last)
                {
                    open[same] = (unit, group, last);
                }
            }
        }
    }

    private static PatchFinding Overlap(PatchUnit unit, PatchUnit other, int last)
    {
        bool same = unit.Address == other.Address;
        string pair = $"units {Shown.Quoted(other.Unit)} (line {Shown.Number(other.Line)}) and {Shown.Quoted(unit.Unit)} (line {Shown.Number(unit.Line)})";
        return same
            ? new PatchFinding(SharedAddress, PatchSeverity.Warning, [other.Unit, unit.Unit], $"{pair} are both at {Place(unit)}: they move together",
                "if that is meant, name one in the other's sharesWith; if not, give one another address", unit.Line)
            : new PatchFinding(AddressOverlap, PatchSeverity.Fault, [other.Unit, unit.Unit],
                $"{pair} overlap in slots {Shown.Number(unit.Address)} to {Shown.Number(last)} of universe {Shown.Number(unit.Universe)}",
                "move one of them, or correct its mode", unit.Line);
    }

    private static void CheckCapture(PatchSheet sheet, ChartSet charts, IReadOnlyDictionary<int, UniverseFacts>? captured, List<PatchFinding> findings)
    {
        if (captured is null)
        {
            return;
        }

        foreach (IGrouping<int, PatchUnit> universe in sheet.Units.GroupBy(unit => unit.Universe))
        {
            if (!captured.TryGetValue(universe.Key, out UniverseFacts facts))
            {
                continue;
            }

            if (!facts.Present)
            {
                findings.Add(new PatchFinding(UniverseNotCaptured, PatchSeverity.Fault, [.. universe.Select(unit => unit.Unit)],
                    $"universe {Shown.Number(universe.Key)} of the sheet, with {Shown.Number(universe.Count())} unit(s), is not in the capture",
                    "check where the capture was taken and the numbering of the universes, then the sender", universe.First().Line));
                continue;
            }

            if (facts.SlotsSent == 0)
            {
                findings.Add(new PatchFinding(UniverseWithoutLevels, PatchSeverity.Warning, [.. universe.Select(unit => unit.Unit)],
                    $"universe {Shown.Number(universe.Key)} of the sheet, with {Shown.Number(universe.Count())} unit(s), carries no levels in the capture, so it cannot be told whether enough slots are sent",
                    "capture while the controller sends", universe.First().Line));
                continue;
            }

            foreach (PatchUnit unit in universe)
            {
                int last = unit.Address + FootprintOf(unit, charts) - 1;
                if (last > facts.SlotsSent && last <= 512)
                {
                    findings.Add(new PatchFinding(BeyondSlotsSent, PatchSeverity.Fault, [unit.Unit],
                        $"unit {Shown.Quoted(unit.Unit)} at {Place(unit)} needs slots up to {Shown.Number(last)}, but at most {Shown.Number(facts.SlotsSent)} are sent",
                        "send more slots, or move it to a lower address", unit.Line));
                }
            }
        }
    }
}
