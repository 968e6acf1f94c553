namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// The charts of Harbour Hall, all invented. The wash's order of slots is chosen for the fault of LX1-6: read three
/// slots late it takes its dimmer from a neighbour's blue, its blue from that neighbour's zoom, its shutter and macro
/// from two slots that nobody uses (0 = open, no function), and its white from the next neighbour's dimmer.
/// </summary>
public static class HarbourCharts
{
    /// <summary>LED wash.</summary>
    public static RigChart Wash { get; } = new(
        "led-wash",
        new RigMode(
            "10 slot",
            Level("Dimmer"), Level("Red"), Level("Green"), Level("Blue"), Level("Amber"), Level("UV"),
            new("Zoom", new RigRange(0, 255, "narrow to wide")), Shutter, Macro, Level("White")),
        new RigMode(
            "6 slot",
            Level("Red"), Level("Green"), Level("Blue"), Level("White"), Level("Dimmer"), Shutter));

    /// <summary>Moving head with fine bytes.</summary>
    public static RigChart Head { get; } = new(
        "moving-head",
        new RigMode(
            "16 slot",
            Level("Pan"), Level("Pan fine"), Level("Tilt"), Level("Tilt fine"),
            new("Pan and tilt speed", new RigRange(0, 255, "fast to slow")),
            Level("Dimmer"), Level("Dimmer fine"), Shutter,
            Level("Red"), Level("Green"), Level("Blue"), Level("White"),
            new("Zoom", new RigRange(0, 255, "narrow to wide")),
            new("Gobo", new RigRange(0, 31, "open"), new RigRange(32, 255, "gobo 1 to 7")),
            Macro, Control),
        new RigMode(
            "11 slot",
            Level("Pan"), Level("Tilt"), Level("Dimmer"), Shutter,
            Level("Red"), Level("Green"), Level("Blue"), Level("White"),
            new("Zoom", new RigRange(0, 255, "narrow to wide")), Macro, Control));

    /// <summary>One channel of the dimmer rack.</summary>
    public static RigChart Dimmer { get; } = new("dimmer", new RigMode("1 slot", Level("Dimmer")));

    /// <summary>Battery light of the floor package, fed by radio.</summary>
    public static RigChart Floor { get; } = new(
        "floor-light",
        new RigMode(
            "6 slot",
            Level("Dimmer"), Level("Red"), Level("Green"), Level("Blue"), Level("White"),
            new("Strobe", new RigRange(0, 9, "no strobe"), new RigRange(10, 255, "strobe slow to fast"))),
        new RigMode("4 slot", Level("Red"), Level("Green"), Level("Blue"), Level("White")));

    /// <summary>Hazer.</summary>
    public static RigChart Hazer { get; } = new(
        "hazer",
        new RigMode(
            "2 slot",
            new("Haze output", new RigRange(0, 9, "off"), new RigRange(10, 255, "low to high")),
            new("Fan", new RigRange(0, 255, "slow to fast"))));

    /// <summary>All of them.</summary>
    public static IReadOnlyList<RigChart> All { get; } = [Wash, Head, Dimmer, Floor, Hazer];

    private static RigSlot Shutter => new(
        "Shutter",
        new RigRange(0, 9, "open"),
        new RigRange(10, 19, "closed"),
        new RigRange(20, 239, "strobe slow to fast"),
        new RigRange(240, 255, "open"));

    private static RigSlot Macro => new(
        "Colour macro", new RigRange(0, 9, "no function"), new RigRange(10, 255, "colour macros and programmes"));

    private static RigSlot Control => new(
        "Control",
        new RigRange(0, 199, "no function"),
        new RigRange(200, 219, "reset after 3 s"),
        new RigRange(220, 255, "no function"));

    private static RigSlot Level(string function) => new(function, new RigRange(0, 255, "0 to 100%"));
}
