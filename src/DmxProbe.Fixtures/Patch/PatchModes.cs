using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>
/// Finds the modes that a sheet means when it does not write them as the chart does: <c>16ch</c> for the one mode of 16
/// slots, <c>10-slot</c> for <c>10 slot</c>, nothing for the only mode there is.
/// </summary>
public static class PatchModes
{
    /// <summary>The sheet with types and modes as the charts name them, wherever there is exactly one reading.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="charts">The charts.</param>
    /// <param name="notes">What was taken for what, a sentence each; names are escaped.</param>
    public static PatchSheet Resolve(PatchSheet sheet, ChartSet charts, out IReadOnlyList<string> notes)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        Dictionary<(string, string, int), (string Type, string Mode, int Count)?> known = [];
        List<PatchUnit> units = [];
        foreach (PatchUnit unit in sheet.Units)
        {
            (string, string, int) key = (unit.Type, unit.Mode, unit.StatedFootprint);
            if (!known.TryGetValue(key, out (string Type, string Mode, int Count)? found))
            {
                found = charts.Find(unit.Type, unit.Mode) is null && Find(unit, charts) is var (chart, mode) ? (chart, mode, 0) : null;
            }

            known[key] = found is var (type, name, count) ? (type, name, count + 1) : null;
            units.Add(found is var (itsType, itsMode, _) ? unit with { Type = itsType, Mode = itsMode } : unit);
        }

        notes = [.. known.Where(pair => pair.Value is not null).Select(pair => Note(pair.Key, pair.Value!.Value))];
        return notes.Count == 0 ? sheet : new PatchSheet(units) { UniverseBase = sheet.UniverseBase };
    }

    /// <summary>Whether two names are one but for case, blanks and marks: <c>LED Wash</c> and <c>led-wash</c>.</summary>
    public static bool SameName(string a, string b)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        return Plain(a) is { Length: > 0 } plain && plain.Equals(Plain(b), StringComparison.Ordinal);
    }

    private static string Note((string Type, string Mode, int Stated) written, (string Type, string Mode, int Count) taken)
    {
        string what = string.Create(CultureInfo.InvariantCulture, $"{taken.Count} unit{(taken.Count == 1 ? "" : "s")} of {Shown.Quoted(written.Type)}");
        string mode = written.Mode.Length > 0 ? "mode " + Shown.Quoted(written.Mode) : written.Stated > 0 ? $"no mode but {Shown.Number(written.Stated)} slots" : "no mode";
        return $"{what}, {mode}: taken as {Shown.Quoted(taken.Type)} mode {Shown.Quoted(taken.Mode)}";
    }

    private static (string Type, string Mode)? Find(PatchUnit unit, ChartSet charts)
    {
        Chart[] sameName = charts.Find(unit.Type) is { } exact ? [exact] : [.. charts.Charts.Where(chart => SameName(chart.Type, unit.Type)).Take(2)];
        if (sameName is not [var chart])
        {
            return null;
        }

        ChartMode[] modes = [.. chart.Modes.Where(mode => SameName(mode.Name, unit.Mode))];
        if (modes.Length == 0)
        {
            int slots = Slots(unit.Mode) is int said and > 0 ? said : unit.Mode.Length == 0 ? unit.StatedFootprint : 0;
            modes = slots > 0 ? [.. chart.Modes.Where(mode => mode.Footprint == slots)]
                : unit.Mode.Length == 0 && chart.Modes.Count == 1 ? [chart.Modes[0]] : [];
        }

        return modes is [var only] ? (chart.Type, only.Name) : null;
    }

    /// <summary>The number of slots a mode is named after: <c>16ch</c>, <c>mode 16 slots</c>, <c>16</c>; 0 for other names.</summary>
    private static int Slots(string mode)
    {
        string plain = Plain(mode);
        int digits = plain.TakeWhile(char.IsAsciiDigit).Count();
        if (digits == 0 && plain.StartsWith("MODE", StringComparison.Ordinal) && plain.Any(char.IsAsciiDigit) && !char.IsAsciiDigit(plain[^1]))
        {
            return Slots(plain[4..]); // mode 16ch; but mode 2 is a name
        }

        return digits is > 0 and < 4 && plain[digits..] is "" or "CH" or "CHAN" or "CHANNEL" or "CHANNELS" or "SLOT" or "SLOTS" or "CHMODE" or "CHANNELMODE" or "DMX" or "KANAL"
            ? int.Parse(plain.AsSpan(0, digits), NumberStyles.None, CultureInfo.InvariantCulture)
            : 0;
    }

    private static string Plain(string name)
    {
        StringBuilder plain = new();
        foreach (char c in name)
        {
            _ = char.IsLetterOrDigit(c) ? plain.Append(char.ToUpperInvariant(c)) : plain;
        }

        return plain.ToString();
    }
}
