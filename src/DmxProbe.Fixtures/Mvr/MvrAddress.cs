using System.Globalization;

namespace DmxProbe.Fixtures.Mvr;

/// <summary>Addresses as MVR writes them: counted through all universes from 1, or <c>universe.address</c>, both from 1.</summary>
internal static class MvrAddress
{
    /// <summary>Slots of a universe.</summary>
    public const int Slots = 512;

    /// <summary>The address counted from 1; 0 for one that is 0 or empty, which means not patched; null when it is none.</summary>
    public static int? Absolute(string text)
    {
        string[] parts = text.Trim().Split('.');
        if (parts is [""])
        {
            return 0;
        }

        if (parts.Length > 2 || !TryNumber(parts[0], out int first))
        {
            return null;
        }

        if (parts.Length == 1)
        {
            return first <= Patch.PatchReader.MaxUniverse * Slots ? first : null;
        }

        return TryNumber(parts[1], out int address) && first >= 1 && first <= Patch.PatchReader.MaxUniverse && address is >= 1 and <= Slots
            ? ((first - 1) * Slots) + address
            : null;
    }

    /// <summary>Universe (from 1) of an address counted from 1. The text of the format states no formula; this is common practice.</summary>
    public static int Universe(int absolute) => ((absolute - 1) / Slots) + 1;

    /// <summary>Address within the universe, 1 to 512.</summary>
    public static int Address(int absolute) => ((absolute - 1) % Slots) + 1;

    private static bool TryNumber(string text, out int number) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out number);
}
