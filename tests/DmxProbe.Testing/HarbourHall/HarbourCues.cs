using System.Globalization;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// The soundcheck of "The Glass Orchard": the look the rig stands in, then cues of the show with single units worked by
/// hand in between. Each of LX1-2 and LX1-3 moves at times when its neighbours do not, so that the addresses of the bar
/// carry different light.
/// </summary>
public static class HarbourCues
{
    private const long ChaseStep = 500;

    /// <summary>The look before the first cue.</summary>
    public static Cue Preset { get; } = new(
        0, 0, "preset",
        "LX1: dimmer 90, red 255, green 140, blue 50, amber 120, zoom 110",
        "LX1-2: zoom 150",
        "LX1-3: dimmer 60",
        "DR: dimmer 60",
        "LX2: pan 32768, tilt 21000, dimmer 0, white 255, zoom 60",
        "LX3: dimmer 40, blue 200, uv 60, zoom 200",
        "FL: dimmer 50, red 255, green 90",
        "HZ-1: haze output 60, fan 80");

    /// <summary>The cues in order of time.</summary>
    public static IReadOnlyList<Cue> List { get; } =
    [
        new(2_000, 1_500, "house to half", "DR: dimmer 120", "LX1: dimmer 140"),
        new(4_500, 2_000, "dawn over the orchard",
            "LX1: dimmer 170, red 255, green 110, blue 120, amber 180",
            "LX3: dimmer 130, red 180, blue 60", "FL: dimmer 120, green 60"),
        new(8_000, 800, "key on the singer",
            "LX1-2: dimmer 230, red 60, blue 250", "LX1-3: dimmer 240", "DR-3 DR-4: dimmer 220"),
        new(11_000, 0, "cold glass",
            "LX1-1 LX1-3 LX1-5: red 0, blue 220, amber 0, uv 90", "LX1-2 LX1-4 LX1-6: blue 30, amber 60", "FL: blue 255"),
        new(13_500, 300, "cold glass, other side",
            "LX1-1 LX1-3 LX1-5: blue 30", "LX1-2 LX1-4 LX1-6: blue 240, uv 110", "LX1-3: dimmer 90"),
        new(16_000, 3_000, "first verse",
            "LX2: dimmer 45000, blue 180, pan 40000", "LX1-2 LX1-4 LX1-6: blue 140", "LX1-3: dimmer 200",
            "LX3: dimmer 90, uv 160"),
        new(20_500, 400, "LX1-2 by hand, blue out", "LX1-2: blue 0"),
        new(21_700, 0, "LX1-2 by hand, blue full", "LX1-2: blue 255"),
        new(23_000, 400, "LX1-2 by hand, blue low", "LX1-2: blue 170"),
        new(24_500, 300, "LX1-3 by hand, out", "LX1-3: dimmer 0"),
        new(25_700, 0, "LX1-3 by hand, full", "LX1-3: dimmer 255"),
        .. Chase(28_000, 12),
        new(34_500, 2_500, "glass harmonica",
            "LX1: blue 200, amber 40, uv 120, white 80", "LX2: tilt 30000, dimmer 60000", "FL: dimmer 200, white 120"),
        new(39_000, 500, "LX1-6 by hand, out", "LX1-6: dimmer 0"),
        new(40_500, 0, "LX1-6 by hand, full", "LX1-6: dimmer 255, white 255"),
        new(43_000, 0, "bridge", "LX1-2: blue 20", "LX1-3: dimmer 255, red 200", "LX3: dimmer 220", "DR-1 DR-6: dimmer 30"),
        new(46_000, 1_200, "heads to the balcony", "LX2: pan 50000, tilt 12000, red 255, blue 0", "LX1-2: blue 150, amber 200"),
        new(49_500, 500, "finale",
            "LX1: dimmer 255, red 255, blue 255, amber 160", "LX3: dimmer 255", "FL: dimmer 255", "DR: dimmer 255"),
        new(52_500, 2_000, "after the last chord", "LX1: blue 80, dimmer 120, uv 30", "LX2: dimmer 8000", "FL: dimmer 70"),
        new(56_500, 1_500, "restore", "LX1: dimmer 90, blue 40, amber 120", "LX1-3: dimmer 60", "DR: dimmer 60", "LX3: dimmer 40"),
    ];

    /// <summary>One light of the first bar after the other, from right to left and unevenly.</summary>
    private static IEnumerable<Cue> Chase(long at, int steps)
    {
        int[] order = [1, 4, 2, 6, 3, 5, 2, 1, 5, 2, 4, 3];
        for (int step = 0; step < steps; step++)
        {
            string number = (step + 1).ToString(CultureInfo.InvariantCulture);
            string unit = "LX1-" + order[step % order.Length].ToString(CultureInfo.InvariantCulture);
            yield return new Cue(at + (step * ChaseStep), 0, "chorus " + number, "LX1: blue 40", unit + ": blue 255");
        }
    }
}
