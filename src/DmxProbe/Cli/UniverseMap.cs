using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli;

/// <summary>
/// Which universe of the wire a universe of the patch sheet is. The sheet's numbers are a numbering of their own: the
/// map is given, or found where only one reading is possible, and always printed both ways.
/// </summary>
internal sealed class UniverseMap
{
    private readonly SortedDictionary<int, UniverseId> _wire = [];

    /// <summary>By sheet universe, what it is on the wire.</summary>
    public IReadOnlyDictionary<int, UniverseId> Wire => _wire;

    /// <summary>Sheet universes that could be more than one universe of the wire, with the choices.</summary>
    public IReadOnlyList<(int Sheet, IReadOnlyList<UniverseId> Choices)> Ambiguous { get; private init; } = [];

    /// <summary>Reads a map as it is given: <c>1=artnet:0,2=sacn:2</c>, <c>1=line:A</c>, <c>1=serial:A</c>.</summary>
    /// <exception cref="UsageException">It is none; the sentence says where.</exception>
    public static UniverseMap Parse(string text)
    {
        UniverseMap map = new();
        foreach (string part in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] sides = part.Split('=', StringSplitOptions.TrimEntries);
            string[] wire = sides.Length == 2 ? sides[1].Split(':', StringSplitOptions.TrimEntries) : [];
            if (wire.Length != 2 || Number(sides[0]) is not int sheet || Place(wire) is not int number)
            {
                throw Refused(part, "a pair such as 1=artnet:0 or 2=sacn:2");
            }

            UniverseId id = wire[0].ToUpperInvariant() switch
            {
                "SACN" when number is >= 1 and <= 63_999 => new UniverseId(UniverseProtocol.Sacn, number),
                "SACN" => throw Refused(part, "an sACN universe from 1 to 63999"),
                "ARTNET" when number <= 32_767 => new UniverseId(UniverseProtocol.ArtNet, number),
                "ARTNET" => throw Refused(part, "an Art-Net Port-Address from 0 to 32767"),
                "LINE" => new UniverseId(UniverseProtocol.Line, number),
                "SERIAL" => new UniverseId(UniverseProtocol.Serial, number),
                _ => throw Refused(part, "sacn, artnet, line or serial before the colon"),
            };
            if (!map._wire.TryAdd(sheet, id))
            {
                throw new UsageException($"--map gives sheet universe {sheet} twice; give each once");
            }
        }

        return map._wire.Count > 0 ? map : throw Refused(text, "a pair such as 1=artnet:0 or 2=sacn:2");
    }

    /// <summary>Reads a map as it is given for a sheet.</summary>
    /// <param name="text">The map; null: none is given.</param>
    /// <param name="sheet">The sheet; null: none is given, and any number is taken.</param>
    /// <exception cref="UsageException">It is no map, or names a universe that the sheet does not have; one sentence.</exception>
    public static UniverseMap? Given(string? text, PatchSheet? sheet)
    {
        if (text is null)
        {
            return null;
        }

        UniverseMap map = Parse(text);
        foreach (int number in map._wire.Keys.Where(number => sheet?.Universes.Contains(number) == false))
        {
            throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"--map: universe {number} is not on the sheet, which has {(sheet!.Universes.Count == 0 ? "none" : string.Join(", ", sheet.Universes))}; before the '=' goes the sheet's own number"));
        }

        return map;
    }

    /// <summary>
    /// Finds the map: sheet universe n may be sACN n, Art-Net Port-Address n, or n - 1 where the sheet counts from 1; on a
    /// sheet that counts from 0 it may be Port-Address n or sACN n + 1. It is that universe of the capture where exactly
    /// one of them was captured. What is given stands; the others are looked for among what it leaves.
    /// </summary>
    /// <param name="sheetUniverses">The numbers on the sheet.</param>
    /// <param name="captured">What is in the capture.</param>
    /// <param name="universeBase">The number of the sheet's first universe, 0 or 1.</param>
    /// <param name="given">The map as given, for all or some of them; null: none is given.</param>
    public static UniverseMap Detect(IEnumerable<int> sheetUniverses, IEnumerable<UniverseId> captured, int universeBase = 1, UniverseMap? given = null)
    {
        HashSet<UniverseId> present = [.. captured];
        Dictionary<int, UniverseId> found = new(given?.Wire ?? new Dictionary<int, UniverseId>());
        List<(int Sheet, IReadOnlyList<UniverseId> Choices)> open = [];
        foreach (int sheet in sheetUniverses.Where(sheet => !found.ContainsKey(sheet)).ToArray())
        {
            UniverseId[] choices = [.. Choices(sheet, universeBase, given).Where(present.Contains)];
            if (choices.Length == 1)
            {
                found[sheet] = choices[0];
            }
            else if (choices.Length > 1)
            {
                open.Add((sheet, choices));
            }
        }

        UniverseMap map = new() { Ambiguous = open };
        foreach ((int sheet, UniverseId id) in found)
        {
            map._wire[sheet] = id;
        }

        return map;
    }

    /// <summary>
    /// The map of a capture that was read. A DMX line carries no number: where a capture holds nothing but lines or serial
    /// ports it is asked which universe they are.
    /// </summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="captured">What is in the capture.</param>
    /// <param name="given">The map as given, for all or some of the sheet's universes; null: none is given.</param>
    /// <exception cref="UsageException">It holds lines or serial ports only, and nothing is given.</exception>
    public static UniverseMap Of(PatchSheet sheet, IEnumerable<UniverseId> captured, UniverseMap? given = null)
    {
        UniverseId[] present = [.. captured.Order()];
        if (given is null && present.Length > 0 && Array.TrueForAll(present, id => id.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial))
        {
            string word = present[0].Protocol == UniverseProtocol.Line ? "line" : "serial";
            throw new UsageException(string.Create(
                CultureInfo.InvariantCulture,
                $"a DMX line does not carry the number of its universe, and this capture holds {string.Join(", ", present.Select(id => id.Label))} only; say which universe of the sheet it is, as in --map {sheet.Universes[0]}={word}:{present[0].Label.Split(' ')[1]}"));
        }

        return Detect(sheet.Universes, present, sheet.UniverseBase, given);
    }

    /// <summary>What a universe of a sheet may be on the wire when nothing says which.</summary>
    public static IEnumerable<UniverseId> Choices(int sheet, int universeBase) => new[]
    {
        new UniverseId(UniverseProtocol.Sacn, sheet + 1 - universeBase),
        new UniverseId(UniverseProtocol.ArtNet, sheet - universeBase),
        new UniverseId(UniverseProtocol.ArtNet, sheet),
    }.Distinct();

    /// <summary>What a universe of a sheet may be on the wire: what is given, else one of those that are not given to another.</summary>
    public static IEnumerable<UniverseId> Choices(int sheet, int universeBase, UniverseMap? given) => given is null ? Choices(sheet, universeBase)
        : given._wire.TryGetValue(sheet, out UniverseId named) ? [named]
        : Choices(sheet, universeBase).Where(id => !given._wire.ContainsValue(id));

    // Lines and serial ports have letters, as they are printed.
    private static int? Place(string[] wire) => wire[0].ToUpperInvariant() is not ("LINE" or "SERIAL") ? Number(wire[1])
        : wire[1].Length == 1 && char.IsAsciiLetter(wire[1][0]) ? char.ToUpperInvariant(wire[1][0]) - 'A' : null;

    private static int? Number(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;

    private static UsageException Refused(string part, string expected) =>
        new($"--map: expected {expected}, found '{part}'; a whole map looks like 1=artnet:0,2=sacn:2");
}
