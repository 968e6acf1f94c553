using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Cli;

/// <summary>
/// Slots as a person names them: <c>sacn:2.16</c>, <c>artnet:0.16-20</c>, <c>line:A.16</c>, or <c>1.016</c> by the numbers of a patch sheet.
/// </summary>
/// <param name="Wire">The universe of the wire; null where the number is a sheet's.</param>
/// <param name="Number">The universe's number, as given.</param>
/// <param name="Slot">The slot or the first of a range, 1 to 512.</param>
/// <param name="Last">The last of the range.</param>
internal sealed record SlotPlace(UniverseId? Wire, int Number, int Slot, int Last)
{
    private const int LastPortAddress = 32_767;

    /// <summary>Slots of the range.</summary>
    public int Count => Last - Slot + 1;

    /// <summary>Reads what was given after <c>--slot</c>: one slot or range, or several with commas between.</summary>
    /// <exception cref="UsageException">One of them is none.</exception>
    public static IReadOnlyList<SlotPlace> ParseList(string text) => [.. text.Split(',').Select(Parse)];

    private static SlotPlace Parse(string text)
    {
        string[] sides = text.Trim().Split(':', StringSplitOptions.TrimEntries);
        string[] place = sides[^1].Split('.', StringSplitOptions.TrimEntries);
        string[] ends = place.Length == 2 ? place[1].Split('-', StringSplitOptions.TrimEntries) : [];
        bool isLettered = sides.Length == 2 && sides[0].ToUpperInvariant() is "LINE" or "SERIAL";
        if (sides.Length > 2 || ends.Length is < 1 or > 2 || (isLettered ? Lettered(place[0]) : Whole(place[0])) is not int universe || Whole(ends[0]) is not int slot || Whole(ends[^1]) is not int last)
        {
            throw Refused("universe.slot such as sacn:2.16, artnet:0.16-20, line:A.16 or, by the sheet's numbers, 1.016", text);
        }

        if (slot is < 1 or > SlotHistory.SlotCount || last > SlotHistory.SlotCount || last < slot)
        {
            throw Refused($"slots from 1 to {SlotHistory.SlotCount} behind the point, the lower first", text);
        }

        if (sides.Length == 1)
        {
            return new SlotPlace(null, universe, slot, last);
        }

        return sides[0].ToUpperInvariant() switch
        {
            "SACN" when SacnAddressing.IsDataUniverse(universe) => new SlotPlace(new UniverseId(UniverseProtocol.Sacn, universe), universe, slot, last),
            "SACN" => throw Refused("an sACN universe from 1 to 63999 before the point", text),
            "ARTNET" when universe <= LastPortAddress => new SlotPlace(new UniverseId(UniverseProtocol.ArtNet, universe), universe, slot, last),
            "ARTNET" => throw Refused($"an Art-Net Port-Address from 0 to {LastPortAddress} before the point", text),
            "LINE" => new SlotPlace(new UniverseId(UniverseProtocol.Line, universe), universe, slot, last),
            "SERIAL" => new SlotPlace(new UniverseId(UniverseProtocol.Serial, universe), universe, slot, last),
            _ => throw Refused("sacn, artnet, line or serial before the colon", text),
        };
    }

    private static int? Whole(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;

    // Lines are A to Z, and those after Z numbers, as they are shown.
    private static int? Lettered(string text) => text.Length == 1 && char.IsAsciiLetter(text[0]) ? char.ToUpperInvariant(text[0]) - 'A' : Whole(text);

    private static UsageException Refused(string expected, string found) => new($"--slot: expected {expected}, found '{found}'");
}
