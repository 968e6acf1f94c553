using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>Writes a sheet in our own form, so that it reads back to the same units.</summary>
public static class PatchWriter
{
    private const string Header = "unit,type,mode,universe,address,position,chain,order,circuit,sharesWith,wireless,footprint,note";

    /// <summary>Writes a sheet.</summary>
    /// <param name="output">Where to; left open.</param>
    /// <param name="units">The units.</param>
    /// <exception cref="IOException">The writer itself fails.</exception>
    public static void Write(TextWriter output, IEnumerable<PatchUnit> units)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(units);
        output.Write(Header + "\n");
        foreach (PatchUnit unit in units)
        {
            string[] cells =
            [
                unit.Unit, unit.Type, unit.Mode, Shown.Number(unit.Universe), Shown.Number(unit.Address), unit.Position, unit.Chain,
                unit.ChainOrder == 0 ? "" : Shown.Number(unit.ChainOrder), unit.Circuit, string.Join('|', unit.SharesWith), unit.Wireless,
                unit.StatedFootprint == 0 ? "" : Shown.Number(unit.StatedFootprint), unit.Note,
            ];
            output.Write(string.Join(',', cells.Select(Cell)) + "\n");
        }
    }

    /// <summary>
    /// A cell. Text that a spreadsheet would take for a formula gets an apostrophe in front, which the reader takes off again;
    /// what would be a comment goes in quotes.
    /// </summary>
    private static string Cell(string text)
    {
        string safe = text.Length > 0 && (text[0] is '=' or '+' or '-' or '@' || (text[0] == '\'' && text.Length > 1)) ? "'" + text : text;
        return safe.StartsWith('#') || safe.Any(c => c is ',' or ';' or '|' or '"' or '\r' or '\n' or '\t')
            ? string.Create(CultureInfo.InvariantCulture, $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"")
            : safe;
    }
}
