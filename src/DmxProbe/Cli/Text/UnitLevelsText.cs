using System.Globalization;

using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>The levels of a universe by unit and function, as the patch sheet has them.</summary>
internal static class UnitLevelsText
{
    private const int MostUnits = 40;
    private const int MostNames = 12;

    /// <summary>Writes them: units with a level, then those that are all at 0, then slots of no unit.</summary>
    /// <param name="page">The page.</param>
    /// <param name="slots">The levels, slot 1 first.</param>
    /// <param name="units">The units told.</param>
    /// <param name="sheet">Whose slots are where.</param>
    /// <param name="isOne">Whether one unit was asked for: then slots at 0 are told too, and slots of others are not.</param>
    /// <param name="all">Whether everything is told.</param>
    public static void Write(TextPage page, byte[] slots, IReadOnlyList<(PatchUnit Unit, int Slots)> units, ReviewSheet sheet, bool isOne, bool all)
    {
        List<(string Label, string Text)> told = [];
        List<string> dark = [];
        foreach ((PatchUnit unit, int count) in units)
        {
            int last = Math.Min(slots.Length, unit.Address + count - 1);
            int[] own = [.. Enumerable.Range(unit.Address, Math.Max(0, last - unit.Address + 1))];
            if (own.Length == 0)
            {
                told.Add((unit.Unit, string.Create(CultureInfo.InvariantCulture, $"{unit.Universe}.{unit.Address:000}: not sent ({slots.Length} slots are)")));
            }
            else if (!isOne && own.All(slot => slots[slot - 1] == 0))
            {
                dark.Add(unit.Unit);
            }
            else
            {
                IEnumerable<string> levels = own.Where(slot => isOne || slots[slot - 1] != 0).Select(slot => string.Create(CultureInfo.InvariantCulture, $"{sheet.Function(unit, slot)} {slots[slot - 1]}"));
                told.Add((unit.Unit, string.Create(CultureInfo.InvariantCulture, $"{unit.Universe}.{unit.Address:000}: {string.Join(", ", levels)}{(isOne || own.All(slot => slots[slot - 1] != 0) ? "" : "; the rest 0")}")));
            }
        }

        int width = told.Count == 0 ? 0 : Math.Min(24, told.Max(each => each.Label.Length) + 2);
        foreach ((string label, string text) in told.Take(all ? int.MaxValue : MostUnits))
        {
            page.Labelled(label, text, width, indent: 4);
        }

        if (!all && told.Count > MostUnits)
        {
            page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"and {told.Count - MostUnits} more units (--all shows them)"), indent: 4);
        }

        if (dark.Count > 0)
        {
            page.Paragraph($"all slots at 0: {string.Join(", ", dark.Take(all ? int.MaxValue : MostNames))}{(!all && dark.Count > MostNames ? string.Create(CultureInfo.InvariantCulture, $" and {dark.Count - MostNames} more") : "")}", indent: 4);
        }

        if (!isOne)
        {
            HashSet<int> patched = [.. units.SelectMany(each => Enumerable.Range(each.Unit.Address, each.Slots))];
            string[] loose = [.. Enumerable.Range(1, slots.Length).Where(slot => slots[slot - 1] != 0 && !patched.Contains(slot)).Select(slot => string.Create(CultureInfo.InvariantCulture, $"{slot} at {slots[slot - 1]}"))];
            if (loose.Length > 0)
            {
                page.Paragraph($"slots of no unit: {string.Join(", ", loose.Take(all ? int.MaxValue : MostNames))}{(!all && loose.Length > MostNames ? string.Create(CultureInfo.InvariantCulture, $" and {loose.Length - MostNames} more") : "")}", indent: 4);
            }
        }
    }
}
