using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Cli;

/// <summary>
/// A slot as a person names it: <c>sacn:2.16</c>, <c>artnet:0.16</c>, or <c>1.016</c> by the numbers of a patch sheet.
/// </summary>
/// <param name="Wire">The universe of the wire; null where the number is a sheet's.</param>
/// <param name="Number">The universe's number, as given.</param>
/// <param name="Slot">1 to 512.</param>
internal sealed record SlotPlace(UniverseId? Wire, int Number, int Slot)
{
    private const int LastPortAddress = 32_767;

    /// <summary>Reads what was given after <c>--slot</c>.</summary>
    /// <exception cref="UsageException">It is no slot.</exception>
    public static SlotPlace Parse(string text)
    {
        string[] sides = text.Trim().Split(':', StringSplitOptions.TrimEntries);
        string[] place = sides[^1].Split('.', StringSplitOptions.TrimEntries);
        if (sides.Length > 2 || place.Length != 2 || Whole(place[0]) is not int universe || Whole(place[1]) is not int slot)
        {
            throw Refused("universe.slot such as sacn:2.16, artnet:0.16 or, by the sheet's numbers, 1.016", text);
        }

        if (slot is < 1 or > SlotHistory.SlotCount)
        {
            throw Refused($"a slot from 1 to {SlotHistory.SlotCount} behind the point", text);
        }

        if (sides.Length == 1)
        {
            return new SlotPlace(null, universe, slot);
        }

        return sides[0].ToUpperInvariant() switch
        {
            "SACN" when SacnAddressing.IsDataUniverse(universe) => new SlotPlace(new UniverseId(UniverseProtocol.Sacn, universe), universe, slot),
            "SACN" => throw Refused("an sACN universe from 1 to 63999 before the point", text),
            "ARTNET" when universe <= LastPortAddress => new SlotPlace(new UniverseId(UniverseProtocol.ArtNet, universe), universe, slot),
            "ARTNET" => throw Refused($"an Art-Net Port-Address from 0 to {LastPortAddress} before the point", text),
            _ => throw Refused("sacn or artnet before the colon", text),
        };
    }

    private static int? Whole(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;

    private static UsageException Refused(string expected, string found) => new($"--slot: expected {expected}, found '{found}'");
}
