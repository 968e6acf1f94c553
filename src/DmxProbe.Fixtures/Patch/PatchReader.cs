using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>
/// Reads a patch sheet from CSV: <c>unit,type,mode,universe,address</c>, optional
/// <c>position,chain,circuit,sharesWith,note</c>. Never throws on any text. What a sheet says is checked by <see cref="PatchCheck"/>.
/// </summary>
public static class PatchReader
{
    /// <summary>Most units of one sheet.</summary>
    public const int MaxUnits = 20_000;

    /// <summary>Longest name.</summary>
    public const int MaxName = 100;

    /// <summary>Highest universe of a sheet's own numbering (as many as sACN can number).</summary>
    public const int MaxUniverse = 63_999;

    private const int MaxText = 500;
    private const int Unit = 0, Type = 1, Mode = 2, Universe = 3, Address = 4, Position = 5, Chain = 6, Circuit = 7, SharesWith = 8, Note = 9;
    private const string AddressAdvice = "write 1 to 512, or universe.address as in 2.061";
    private static readonly string[] Required = ["unit", "type", "mode", "universe", "address"];
    private static readonly string[] Optional = ["position", "chain", "circuit", "sharesWith", "note"];

    /// <summary>Reads a sheet.</summary>
    /// <param name="text">The CSV text; separators comma, semicolon or tab.</param>
    /// <exception cref="IOException">The reader itself fails.</exception>
    public static PatchReading Read(TextReader text)
    {
        ArgumentNullException.ThrowIfNull(text);
        ProblemList problems = new();
        List<PatchUnit> units = [];
        foreach (TableRow row in Table.Read(text, Required, Optional, MaxUnits, problems))
        {
            bool named = row.TryName(Unit, MaxName, mayBeEmpty: false, problems) & row.TryName(Type, MaxName, mayBeEmpty: false, problems) &
                row.TryName(Mode, MaxName, mayBeEmpty: false, problems) & row.TryName(Position, MaxText, mayBeEmpty: true, problems) &
                row.TryName(Chain, MaxName, mayBeEmpty: true, problems) & row.TryName(Circuit, MaxName, mayBeEmpty: true, problems) &
                row.TryName(SharesWith, MaxText, mayBeEmpty: true, problems) & row.TryName(Note, MaxText, mayBeEmpty: true, problems);
            if (TryPlace(row, problems, out int universe, out int address) && named)
            {
                string[] shared = row[SharesWith].Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
                units.Add(new PatchUnit(row[Unit], row[Type], row[Mode], universe, address, row[Position], row[Chain], row[Circuit], shared, row[Note], row.Line));
            }
        }

        return problems.Any ? new PatchReading(null, problems.Problems) : new PatchReading(new PatchSheet(units), []);
    }

    private static bool TryPlace(TableRow row, ProblemList problems, out int universe, out int address)
    {
        universe = address = 0;
        int dot = row[Address].AsSpan().IndexOfAny('.', '/');
        if (dot < 0)
        {
            return row.TryNumber(Universe, 0, MaxUniverse, "use the sheet's own number of the universe", problems, out universe) & TryPlainAddress(row, problems, out address);
        }

        if (!int.TryParse(row[Address].AsSpan(0, dot), NumberStyles.None, CultureInfo.InvariantCulture, out universe) || universe > MaxUniverse ||
            !int.TryParse(row[Address].AsSpan(dot + 1), NumberStyles.None, CultureInfo.InvariantCulture, out address) || address is < 1 or > 512)
        {
            problems.Add(row.Problem("not an address", Address, "universe.address as in 2.061, the address 1 to 512", AddressAdvice));
            return false;
        }

        if (row[Universe].Length > 0 && row[Universe] != Shown.Number(universe))
        {
            problems.Add(row.Problem("two universes for one unit", Universe, Shown.Number(universe) + " as in the address, or nothing", "say which is right"));
            return false;
        }

        return true;
    }

    private static bool TryPlainAddress(TableRow row, ProblemList problems, out int address)
    {
        bool counted = int.TryParse(row[Address], NumberStyles.None, CultureInfo.InvariantCulture, out address) && address is > 512 and <= 512 * 256;
        if (!counted)
        {
            return row.TryNumber(Address, 1, 512, AddressAdvice, problems, out address);
        }

        // Some sheets count through all universes; whether their first universe is this sheet's first is for the person to say.
        problems.Add(row.Problem("an address above 512", Address, "1 to 512",
            string.Create(CultureInfo.InvariantCulture, $"if it counts through all universes, it is address {((address - 1) % 512) + 1} of universe number {((address - 1) / 512) + 1}: write that")));
        return false;
    }
}
