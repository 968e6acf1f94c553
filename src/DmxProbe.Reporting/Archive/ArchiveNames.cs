using System.Globalization;
using System.Text;

using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Reporting.Archive;

/// <summary>Names of folders of an archive: what a person or a packet says never becomes a path.</summary>
public static class ArchiveNames
{
    private const int Longest = 60;
    private const int FirstLatin = 0xC0;

    // Plain letters for U+00C0 to U+017F.
    private const string Latin =
        "aaaaaaaceeeeiiiidnooooo-ouuuuytsaaaaaaaceeeeiiiidnooooo-ouuuuyty" +
        "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkklllllll" +
        "lllnnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";

    /// <summary>
    /// A name as a folder: a to z, 0 to 9 and single hyphens, at most 60; accents are taken off. Never empty. Where letters are lost, the
    /// name is cut or nothing is left of it, a number made of the whole name stands behind, so that two such names stay two.
    /// </summary>
    /// <param name="name">Untrusted text.</param>
    /// <param name="otherwise">What stands where nothing is left of it.</param>
    public static string Slug(string name, string otherwise)
    {
        ArgumentNullException.ThrowIfNull(name);
        StringBuilder slug = new();
        bool isLossy = false;
        foreach (Rune rune in name.EnumerateRunes())
        {
            if (rune.Value is >= 0x300 and < 0x370)
            {
                continue; // an accent of its own
            }

            char letter = Folded(rune);
            if (letter != '-' || (slug.Length > 0 && slug[^1] != '-'))
            {
                slug.Append(letter);
            }

            isLossy |= letter == '-' && Rune.IsLetterOrDigit(rune);
            if (slug.Length > Longest)
            {
                isLossy = true;
                break;
            }
        }

        string found = slug.ToString().Trim('-');
        if (found.Length == 0)
        {
            (found, isLossy) = (otherwise, true); // of '///' and '???' nothing is left, and they are not one show
        }

        if (!isLossy && found.Length <= Longest)
        {
            return found;
        }

        string number = Number(name);
        return found[..Math.Min(found.Length, Longest - number.Length - 1)].TrimEnd('-') + "-" + number;
    }

    // FNV-1a, 32 bit, of the name as UTF-8 (offset basis and prime from memory; any spread would do).
    private static string Number(string name)
    {
        uint hash = 2_166_136_261;
        foreach (byte octet in Encoding.UTF8.GetBytes(name))
        {
            hash = unchecked((hash ^ octet) * 16_777_619);
        }

        return hash.ToString("x8", CultureInfo.InvariantCulture);
    }

    /// <summary>A universe as a folder: <c>sacn-2</c>, <c>artnet-0</c>, <c>line-a</c>.</summary>
    public static string Of(UniverseId universe) => universe.Protocol switch
    {
        UniverseProtocol.Sacn => string.Create(CultureInfo.InvariantCulture, $"sacn-{universe.Number}"),
        UniverseProtocol.ArtNet => string.Create(CultureInfo.InvariantCulture, $"artnet-{universe.Number}"),
        _ => Slug(universe.Label, "line"),
    };

    // By a table: the system's own decomposition is not there where the program is built without ICU.
    private static char Folded(Rune rune) => rune.Value switch
    {
        < 0x80 when Rune.IsLetterOrDigit(rune) => (char)Rune.ToLowerInvariant(rune).Value,
        >= FirstLatin and < FirstLatin + 0xC0 => Latin[rune.Value - FirstLatin],
        _ => '-',
    };
}
