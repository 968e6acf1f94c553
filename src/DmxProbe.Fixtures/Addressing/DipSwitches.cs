using System.Globalization;

namespace DmxProbe.Fixtures.Addressing;

/// <summary>
/// The switch bank of a unit without a display. Common practice, no standard: switch 1 counts 1, each next one double,
/// switch 9 counts 256; makers differ (some banks count from 0, switch 10 is often a mode).
/// </summary>
public static class DipSwitches
{
    /// <summary>Switches that make the address.</summary>
    public const int Count = 9;

    /// <summary>What to say with every pattern.</summary>
    public const string Caution = "Makers differ: check the fixture's manual before setting switches";

    /// <summary>Whether a switch is ON.</summary>
    /// <param name="address">The address, 1 to 511 (nine switches reach no further).</param>
    /// <param name="number">Number of the switch, 1 to 9.</param>
    public static bool IsOn(int address, int number)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(number is >= 1 and <= Count, true, nameof(number));
        return (address & WeightOf(number)) != 0;
    }

    /// <summary>What a switch counts: 1, 2, 4 to 256.</summary>
    public static int WeightOf(int number) => 1 << (number - 1);

    /// <summary>The pattern as text, <c>1:off 2:off 3:ON ... 9:off</c>; empty for an address nine switches cannot show (512).</summary>
    /// <param name="address">The address, 1 to 512.</param>
    public static string Text(int address) => address is < 1 or > 511 ? "" : string.Join(' ', Enumerable.Range(1, Count)
        .Select(number => string.Create(CultureInfo.InvariantCulture, $"{number}:{(IsOn(address, number) ? "ON" : "off")}")));
}
