using System.Globalization;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Walk;

/// <summary>What is to be said about a walk: moves that do not fit the sheet, and the units in walking order. Pure.</summary>
public static class WalkReview
{
    /// <summary>A moved slot belongs to no unit.</summary>
    public const string NoUnit = "slot-of-no-unit";

    /// <summary>A moved slot belongs to two units that do not share it on purpose.</summary>
    public const string TwoUnits = "slot-of-two-units";

    /// <summary>A moved slot belongs to another unit than the one worked on.</summary>
    public const string OtherUnit = "slot-of-another-unit";

    /// <summary>A function that is not to be exercised was moved.</summary>
    public const string Dangerous = "dangerous-function-moved";

    /// <summary>The units in walking order: by position as the sheet first names it, then by chain, then as the sheet has them.</summary>
    public static IReadOnlyList<int> Order(WalkResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        PatchSheet sheet = new([.. result.Targets.Select(target => target.Unit)]);
        PatchChains chains = new(sheet);
        Dictionary<string, int> positions = new(StringComparer.OrdinalIgnoreCase);
        foreach (WalkTarget target in result.Targets)
        {
            positions.TryAdd(target.Unit.Position, positions.Count);
        }

        return [.. Enumerable.Range(0, result.Targets.Count).OrderBy(index => positions[result.Targets[index].Unit.Position]).ThenBy(index => chains.Of(result.Targets[index].Unit).Order).ThenBy(index => index)];
    }

    /// <summary>What does not fit, in the order of time.</summary>
    /// <param name="result">What was moved.</param>
    /// <param name="notes">What the person said they were working on, oldest first; empty for nothing. An answer, all right or not right, ends it.</param>
    public static IReadOnlyList<WalkRemark> Remarks(WalkResult result, IReadOnlyList<WalkNote> notes)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(notes);
        List<WalkRemark> remarks = [];
        foreach (WalkMove move in result.Moves)
        {
            string place = string.Create(CultureInfo.InvariantCulture, $"slot {move.Slot} of {move.Universe.Label}");
            string[] units = [.. move.Functions.Select(function => result.Targets[result.Functions[function].Target].Unit.Unit).Distinct(StringComparer.OrdinalIgnoreCase)];
            if (units.Length == 0)
            {
                remarks.Add(new WalkRemark(NoUnit, move, $"{place} moved and belongs to no unit of the sheet"));
                continue;
            }

            if (units.Length > 1 && !Share(result, move))
            {
                remarks.Add(new WalkRemark(TwoUnits, move, $"{place} moved and belongs to {string.Join(" and ", units)}, which overlap on the sheet"));
            }

            WalkFunction first = result.Functions[move.Functions[0]];
            if (first.Danger.Length > 0)
            {
                remarks.Add(new WalkRemark(Dangerous, move, $"'{first.Name}' of {units[0]} moved, which is not to be exercised: {first.Danger}"));
            }

            WalkNote last = notes.LastOrDefault(note => note.Time <= move.From);
            // Whoever said whether a unit was right is through with it: what moves next is not held against it.
            string meant = last.Look is WalkNote.AllRight or WalkNote.NotRight ? "" : last.Unit ?? "";
            if (meant.Length > 0 && !units.Contains(meant, StringComparer.OrdinalIgnoreCase))
            {
                remarks.Add(new WalkRemark(OtherUnit, move, $"{place} moved while {meant} was worked on; by the sheet it is '{first.Name}' of {string.Join(" and ", units)}"));
            }
        }

        return remarks;
    }

    private static bool Share(WalkResult result, WalkMove move)
    {
        PatchUnit[] units = [.. move.Functions.Select(function => result.Targets[result.Functions[function].Target].Unit)];
        return units.All(unit => unit.Universe == units[0].Universe && unit.Address == units[0].Address)
            && units.Skip(1).All(unit => units.Any(other => !ReferenceEquals(other, unit)
                && (other.SharesWith.Contains(unit.Unit, StringComparer.OrdinalIgnoreCase) || unit.SharesWith.Contains(other.Unit, StringComparer.OrdinalIgnoreCase))));
    }
}
