using System.Globalization;

namespace DmxProbe.Fixtures.Patch;

/// <summary>
/// The cable chains of a sheet. A sheet without a column for the order often writes chain and place in one cell
/// (<c>stage left 3</c>): a number at the end counts as the place where several units share what stands before it.
/// </summary>
public sealed class PatchChains
{
    private readonly Dictionary<PatchUnit, (string Chain, int Order)> _places = new(ReferenceEqualityComparer.Instance);

    /// <summary>Reads the chains of a sheet.</summary>
    public PatchChains(PatchSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        Dictionary<string, int> names = sheet.Units.Where(unit => unit.Chain.Length > 0).GroupBy(unit => Split(unit.Chain).Name, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(same => same.Key, same => same.Select(unit => unit.Chain).Distinct(StringComparer.OrdinalIgnoreCase).Count(), StringComparer.OrdinalIgnoreCase);
        foreach (PatchUnit unit in sheet.Units.Where(unit => unit.Chain.Length > 0))
        {
            (string name, int order) = Split(unit.Chain);
            bool split = unit.ChainOrder == 0 && order > 0 && name.Length > 0 && names[name] > 1;
            _places[unit] = split ? (name, order) : (unit.Chain, unit.ChainOrder);
        }
    }

    /// <summary>The chain of a unit and its place in it from 1; empty and 0 where the sheet does not say.</summary>
    public (string Chain, int Order) Of(PatchUnit unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return _places.TryGetValue(unit, out (string, int) place) ? place : ("", 0);
    }

    private static (string Name, int Order) Split(string chain)
    {
        int digits = chain.Length;
        while (digits > 0 && char.IsAsciiDigit(chain[digits - 1]))
        {
            digits--;
        }

        return int.TryParse(chain.AsSpan(digits), NumberStyles.None, CultureInfo.InvariantCulture, out int order)
            ? (chain[..digits].TrimEnd(' ', '-', '.', '/', '#'), order)
            : (chain, 0);
    }
}
