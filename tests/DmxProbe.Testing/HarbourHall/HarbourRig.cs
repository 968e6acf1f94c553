using System.Globalization;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>The 26 units of Harbour Hall, as the patch sheet has them.</summary>
public static class HarbourRig
{
    /// <summary>Start address of LX1-6 on the sheet.</summary>
    public const int SheetAddress = 61;

    /// <summary>Start address that LX1-6 really reads while its fault is in: the digits swapped.</summary>
    public const int SwappedAddress = 16;

    /// <summary>All units in the order of the sheet.</summary>
    public static IReadOnlyList<RigUnit> Units { get; } =
    [
        .. Row("LX1", 6, HarbourCharts.Wash, 1, 1, 12, "first bar", "stage left", "C1"),
        .. Row("DR", 6, HarbourCharts.Dimmer, 1, 101, 1, "dimmer rack", "rack", "D"),
        .. Row("LX2", 4, HarbourCharts.Head, 2, 1, 20, "second bar", "bar two", "C2"),
        .. Row("LX3", 3, HarbourCharts.Wash, 2, 101, 12, "back bar", "back", "C3"),
        .. Row("FL", 6, HarbourCharts.Floor, 3, 1, 6, "floor", "radio", "battery", "radio-linked"),
        new RigUnit(
            "HZ-1", HarbourCharts.Hazer, HarbourCharts.Hazer.Modes[0], 2, 201, "stage right wing", "bar two 5", "C4"),
    ];

    /// <summary>A unit by its name.</summary>
    public static RigUnit Unit(string name) => Units.Single(u => u.Name == name);

    private static IEnumerable<RigUnit> Row(
        string name,
        int count,
        RigChart chart,
        int universe,
        int address,
        int step,
        string position,
        string chain,
        string circuit,
        string note = "")
    {
        for (int i = 0; i < count; i++)
        {
            string number = (i + 1).ToString(CultureInfo.InvariantCulture);
            yield return new RigUnit(
                name + "-" + number, chart, chart.Modes[0], universe, address + (i * step), position,
                chain + " " + number, circuit == "D" ? "D" + number : circuit, note);
        }
    }
}
