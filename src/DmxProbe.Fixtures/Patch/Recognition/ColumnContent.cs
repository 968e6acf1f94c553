using System.Text.RegularExpressions;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>What the cells of one column look like, in shares of those that hold anything.</summary>
internal sealed partial class ColumnContent
{
    private const int Sample = 1000;

    /// <summary>Looks at a column below the headings.</summary>
    public ColumnContent(IEnumerable<GridRow> rows, int column)
    {
        HashSet<string> distinct = new(StringComparer.OrdinalIgnoreCase);
        int addresses = 0, pairs = 0, numbers = 0, universes = 0, words = 0, modes = 0, previous = 0;
        bool counting = true;
        foreach (GridRow row in rows.Take(Sample))
        {
            string cell = row[column];
            if (cell.Length == 0)
            {
                continue;
            }

            Filled++;
            distinct.Add(cell);
            bool address = AddressText.TryParse(cell, out AddressText read) && read.Address > 0;
            bool plain = cell.Length < 8 && cell.All(char.IsAsciiDigit);
            addresses += address ? 1 : 0;
            pairs += address && read.Universe.Length > 0 ? 1 : 0;
            numbers += plain ? 1 : 0;
            counting &= plain && (previous == 0 || read.Address == previous + 1);
            previous = read.Address;
            universes += UniverseText.TryParse(cell, out _) ? 1 : 0;
            words += cell.Any(char.IsLetter) ? 1 : 0;
            modes += ModeWord().IsMatch(cell) ? 1 : 0;
        }

        double all = Math.Max(1, Filled);
        (Addresses, Pairs, Numbers, Universes, Words, Modes) = (addresses / all, pairs / all, numbers / all, universes / all, words / all, modes / all);
        Distinct = distinct.Count / all;
        Counting = counting && Filled > 2;
    }

    /// <summary>Cells that hold anything, of the first thousand rows.</summary>
    public int Filled { get; }

    /// <summary>Share of spellings of an address.</summary>
    public double Addresses { get; }

    /// <summary>Share of addresses with their universe.</summary>
    public double Pairs { get; }

    /// <summary>Share of whole numbers.</summary>
    public double Numbers { get; }

    /// <summary>Share of spellings of a universe.</summary>
    public double Universes { get; }

    /// <summary>Share of cells with letters.</summary>
    public double Words { get; }

    /// <summary>Share of cells that read as a mode.</summary>
    public double Modes { get; }

    /// <summary>Different cells over cells: 1 when no two are equal.</summary>
    public double Distinct { get; }

    /// <summary>Whether the column counts 1, 2, 3 or from another number on.</summary>
    public bool Counting { get; }

    /// <summary>
    /// How well the cells go with what a column may hold: below -1 they contradict it, from 1 on they alone say so.
    /// </summary>
    public double Fits(PatchColumn column)
    {
        if (Filled == 0)
        {
            return column is PatchColumn.Unit or PatchColumn.Type or PatchColumn.Address ? -3 : 0;
        }

        return column switch
        {
            PatchColumn.Address => Addresses < 0.5 ? -3 : Pairs >= 0.8 ? 2 : Counting ? -0.5 : Distinct < 0.2 ? 0 : 0.5,
            PatchColumn.Universe => Universes < 0.5 ? -3 : Distinct <= 0.34 || Filled < 6 ? 0.5 : -0.5,
            PatchColumn.Mode => Modes >= 0.6 ? 1.5 : 0,
            PatchColumn.Type => Words < 0.5 ? -3 : Modes >= 0.6 ? -1 : Distinct <= 0.5 ? 1 : 0.25,
            PatchColumn.Unit => Distinct >= 0.95 ? (Pairs >= 0.8 ? -1 : 1) : Distinct >= 0.6 ? 0 : -1,
            PatchColumn.Footprint => Numbers < 0.5 ? -3 : 0,
            PatchColumn.Order => Numbers < 0.5 ? -3 : 0,
            _ => 0,
        };
    }

    [GeneratedRegex(@"^(?:MODE\s*)?[0-9]{1,3}\s*[- ]?\s*(?:CH|CHAN|CHANNELS?|SLOTS?|KANAL|KANAELE|DMX|BIT)\b.*$|^MODE\b.*$|^(?:BASIC|STANDARD|EXTENDED|FULL|SHORT|COMPLEX|16\s*BIT|8\s*BIT)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex ModeWord();
}
