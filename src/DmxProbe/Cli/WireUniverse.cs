using System.Globalization;

using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Cli;

/// <summary>A universe of the wire as a person names it: <c>sacn:2</c>, <c>artnet:0</c>, <c>line:A</c>, <c>serial:A</c>.</summary>
internal static class WireUniverse
{
    /// <summary>What to type for a universe.</summary>
    public static string Word(UniverseId universe) => universe.Protocol switch
    {
        UniverseProtocol.Sacn => string.Create(CultureInfo.InvariantCulture, $"sacn:{universe.Number}"),
        UniverseProtocol.ArtNet => string.Create(CultureInfo.InvariantCulture, $"artnet:{universe.Number}"),
        _ => universe.Label.Replace(' ', ':'),
    };

    /// <summary>Finds the universe that is meant among those that there are.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="present">What there is.</param>
    /// <param name="option">The option, for the sentence.</param>
    /// <exception cref="UsageException">It names none, or a bare number that may be several.</exception>
    public static UniverseId Find(string text, IReadOnlyCollection<UniverseId> present, string option)
    {
        string asked = text.Trim();
        UniverseId[] found = [.. present.Where(each => Word(each).Equals(asked, StringComparison.OrdinalIgnoreCase) || each.Label.Equals(asked, StringComparison.OrdinalIgnoreCase))];
        if (found.Length == 0 && int.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out int number))
        {
            found = [.. present.Where(each => each.Number == number && each.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet)];
        }

        const int MostNamed = 12;
        string there = string.Join(", ", present.Take(MostNamed).Select(Word)) + (present.Count > MostNamed ? $" and {present.Count - MostNamed} more" : "");
        return found.Length switch
        {
            1 => found[0],
            0 => throw new UsageException($"{option}: expected a universe of this recording ({there}), found '{text}'"),
            _ => throw new UsageException($"{option}: '{text}' may be {string.Join(" or ", found.Select(Word))}; say which"),
        };
    }
}
