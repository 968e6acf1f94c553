using System.Globalization;
using System.Text.RegularExpressions;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>A universe as a sheet writes it.</summary>
/// <param name="Kind">How it is written.</param>
/// <param name="Number">The number; for a letter its place from 0; for Net:Sub:Universe the Port-Address (Art-Net 4: Net 7 bit, Sub-Net 4 bit, Universe 4 bit).</param>
/// <param name="Protocol">sACN or Art-Net where the cell says so; empty otherwise.</param>
internal readonly partial record struct UniverseText(UniverseSpelling Kind, int Number, string Protocol)
{
    /// <summary>Reads a cell, or the universe part of an address.</summary>
    public static bool TryParse(string cell, out UniverseText universe)
    {
        universe = default;
        if (cell.Length is 0 or > 40 || Spelling().Match(cell) is not { Success: true } match)
        {
            return false;
        }

        string protocol = match.Groups["p"].Value.ToUpperInvariant().Replace("-", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal);
        if (match.Groups["letter"] is { Success: true } letter)
        {
            universe = new UniverseText(UniverseSpelling.Letter, char.ToUpperInvariant(letter.ValueSpan[0]) - 'A', protocol);
            return char.IsAsciiLetter(letter.ValueSpan[0]); // case folding lets the Kelvin sign through as a K
        }

        if (match.Groups["net"].Success)
        {
            int net = Int(match, "net"), sub = Int(match, "sub"), uni = Int(match, "uni");
            universe = new UniverseText(UniverseSpelling.NetSubUniverse, (net << 8) | (sub << 4) | uni, protocol);
            return net <= 127 && sub <= 15 && uni <= 15;
        }

        universe = new UniverseText(UniverseSpelling.Number, Int(match, "n"), protocol);
        return true;
    }

    private static int Int(Match match, string group) => int.Parse(match.Groups[group].ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(?<p>SACN|ART-?\s?NET)?\s*(?:UNIVERSE|UNIVERSUM|UNIVERS|UNIV|UNI|U|LINE|DMX)?\s*[.#:]?\s*(?:(?<net>[0-9]{1,3})\s*:\s*(?<sub>[0-9]{1,2})\s*:\s*(?<uni>[0-9]{1,2})|(?<n>[0-9]{1,6})(?:[.,]0+)?|(?<letter>[A-Z]))$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Spelling();
}
