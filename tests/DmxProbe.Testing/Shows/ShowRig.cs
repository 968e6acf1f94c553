using System.Globalization;

namespace DmxProbe.Testing.Shows;

/// <summary>The units of a cued show: on each universe 42 of 12 slots in groups of 6.</summary>
public static class ShowRig
{
    /// <summary>Units of a universe.</summary>
    public const int Units = 42;

    /// <summary>Slots of a unit: dimmer, red, green, blue, white, pan, pan fine, tilt, tilt fine, zoom, shutter, macro.</summary>
    public const int Footprint = 12;

    /// <summary>Units of a group.</summary>
    public const int GroupSize = 6;

    /// <summary>Start address of a unit.</summary>
    /// <param name="unit">From 0.</param>
    public static int Address(int unit) => (unit * Footprint) + 1;

    /// <summary>Name of a unit on the sheet.</summary>
    public static string Name(int universe, int unit) =>
        string.Create(CultureInfo.InvariantCulture, $"U{universe}-{unit + 1:00}");

    /// <summary>The patch sheet of some universes, as CSV.</summary>
    public static string Sheet(int universes)
    {
        System.Text.StringBuilder sheet = new("unit,type,mode,universe,address\n");
        for (int universe = 1; universe <= universes; universe++)
        {
            for (int unit = 0; unit < Units; unit++)
            {
                sheet.Append(CultureInfo.InvariantCulture, $"{Name(universe, unit)},spot,12 slots,{universe},{Address(unit)}\n");
            }
        }

        return sheet.ToString();
    }

    /// <summary>The chart of the units, as CSV.</summary>
    public static string Chart { get; } =
        """
        mode,slot,function,from,to,meaning
        12 slots,1,dimmer,0,255,0-100 %
        12 slots,2,red,0,255,0-100 %
        12 slots,3,green,0,255,0-100 %
        12 slots,4,blue,0,255,0-100 %
        12 slots,5,white,0,255,0-100 %
        12 slots,6,pan,0,255,
        12 slots,7,pan fine,0,255,
        12 slots,8,tilt,0,255,
        12 slots,9,tilt fine,0,255,
        12 slots,10,zoom,0,255,
        12 slots,11,shutter,0,15,closed
        12 slots,11,shutter,16,255,open
        12 slots,12,macro,0,255,no function

        """;
}
