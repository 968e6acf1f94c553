using System.Globalization;
using System.Text.Json;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>What the kinds of capability (their names are from memory) are for a chart; other kinds are unknown.</summary>
internal static class JsonKinds
{
    private static readonly Dictionary<string, SlotRole> Roles = new(StringComparer.Ordinal)
    {
        ["NoFunction"] = SlotRole.None,
        ["ShutterStrobe"] = SlotRole.Shutter,
        ["StrobeSpeed"] = SlotRole.Speed,
        ["StrobeDuration"] = SlotRole.Speed,
        ["Intensity"] = SlotRole.Intensity,
        ["ColorPreset"] = SlotRole.Programme,
        ["ColorTemperature"] = SlotRole.Beam,
        ["Pan"] = SlotRole.Position,
        ["PanContinuous"] = SlotRole.Position,
        ["Tilt"] = SlotRole.Position,
        ["TiltContinuous"] = SlotRole.Position,
        ["PanTiltSpeed"] = SlotRole.Speed,
        ["WheelSlot"] = SlotRole.Beam,
        ["WheelShake"] = SlotRole.Beam,
        ["WheelSlotRotation"] = SlotRole.Beam,
        ["WheelRotation"] = SlotRole.Beam,
        ["Effect"] = SlotRole.Programme,
        ["EffectSpeed"] = SlotRole.Speed,
        ["EffectDuration"] = SlotRole.Speed,
        ["EffectParameter"] = SlotRole.Speed,
        ["SoundSensitivity"] = SlotRole.Control,
        ["BeamAngle"] = SlotRole.Beam,
        ["BeamPosition"] = SlotRole.Beam,
        ["Focus"] = SlotRole.Beam,
        ["Zoom"] = SlotRole.Beam,
        ["Iris"] = SlotRole.Beam,
        ["IrisEffect"] = SlotRole.Beam,
        ["Frost"] = SlotRole.Beam,
        ["FrostEffect"] = SlotRole.Beam,
        ["Prism"] = SlotRole.Beam,
        ["PrismRotation"] = SlotRole.Beam,
        ["BladeInsertion"] = SlotRole.Beam,
        ["BladeRotation"] = SlotRole.Beam,
        ["BladeSystemRotation"] = SlotRole.Beam,
        ["Fog"] = SlotRole.Hazard,
        ["FogOutput"] = SlotRole.Hazard,
        ["FogType"] = SlotRole.Hazard,
        ["Speed"] = SlotRole.Speed,
        ["Time"] = SlotRole.Speed,
        ["Maintenance"] = SlotRole.Control,
    };

    // Cyan, magenta and yellow are filters in this data.
    private static readonly Dictionary<string, SlotRole> Colours = new(StringComparer.OrdinalIgnoreCase)
    {
        ["Red"] = SlotRole.Red,
        ["Green"] = SlotRole.Green,
        ["Blue"] = SlotRole.Blue,
        ["White"] = SlotRole.White,
        ["Warm White"] = SlotRole.White,
        ["Cold White"] = SlotRole.White,
        ["Amber"] = SlotRole.Amber,
        ["UV"] = SlotRole.UltraViolet,
        ["Lime"] = SlotRole.OtherEmitter,
        ["Indigo"] = SlotRole.OtherEmitter,
        ["Cyan"] = SlotRole.Beam,
        ["Magenta"] = SlotRole.Beam,
        ["Yellow"] = SlotRole.Beam,
    };

    /// <summary>The role of a capability.</summary>
    public static SlotRole RoleOf(JsonElement capability)
    {
        string kind = capability.Get("type").Text();
        return kind == "ColorIntensity"
            ? Colours.GetValueOrDefault(capability.Get("color").Text(), SlotRole.Unknown)
            : Roles.GetValueOrDefault(kind, SlotRole.Unknown);
    }

    /// <summary>The effect of a capability.</summary>
    /// <param name="capability">It.</param>
    /// <param name="role">The role of its slot.</param>
    /// <param name="function">The name of its channel.</param>
    /// <param name="meaning">What is said about it; words that name a danger outweigh its kind.</param>
    public static RangeEffect EffectOf(JsonElement capability, SlotRole role, string function, string meaning)
    {
        RangeEffect words = EffectInference.EffectOf(role, function, meaning);
        return words is RangeEffect.ControlAction or RangeEffect.ProgrammeRuns ? words : capability.Get("type").Text() switch
        {
            "NoFunction" => RangeEffect.NoFunction,
            "ShutterStrobe" => capability.Get("shutterEffect").Text() switch
            {
                "Open" => RangeEffect.Open,
                "Closed" => RangeEffect.Closed,
                "" => RangeEffect.Unknown,
                _ => RangeEffect.Flashing,
            },
            "Intensity" or "ColorIntensity" => OfAmount(capability, words),
            "ColorPreset" or "Effect" => RangeEffect.ProgrammeRuns,
            "Maintenance" => RangeEffect.ControlAction,
            "StrobeSpeed" or "StrobeDuration" or "PanTiltSpeed" or "EffectSpeed" or "EffectDuration" or "EffectParameter" or "Speed" or "Time" => RangeEffect.Proportional,
            "FogOutput" when words == RangeEffect.Unknown => RangeEffect.Proportional,
            _ when words == RangeEffect.Unknown && (role is SlotRole.Beam or SlotRole.Position) && RoleOf(capability) == role => Varies(capability) ? RangeEffect.Proportional : RangeEffect.Fixed,
            _ => words,
        };
    }

    /// <summary>Whether something goes from one end to another over the range.</summary>
    private static bool Varies(JsonElement capability) => ((JsonElement?)capability).Properties().Any(property => property.Name.EndsWith("Start", StringComparison.Ordinal));

    private static RangeEffect OfAmount(JsonElement capability, RangeEffect words)
    {
        double? from = Brightness(capability.Get("brightnessStart") ?? capability.Get("brightness")), to = Brightness(capability.Get("brightnessEnd") ?? capability.Get("brightness"));
        if (from is null && to is null)
        {
            bool said = capability.Get("brightness") is not null || capability.Get("brightnessStart") is not null;
            return said ? RangeEffect.Unknown : words is RangeEffect.Unknown or RangeEffect.Closed or RangeEffect.Open ? RangeEffect.Proportional : words;
        }

        // The contract has no falling ramp and no fixed amount between dark and full: then it is not predictable.
        return from < to ? RangeEffect.Proportional
            : from != to ? RangeEffect.Unknown
            : from == 0 ? RangeEffect.Closed
            : from == 100 ? RangeEffect.Open
            : RangeEffect.Unknown;
    }

    /// <summary>Brightness in percent; null for other units and words.</summary>
    private static double? Brightness(JsonElement? said) => said.Text() switch
    {
        "off" => 0,
        "dark" => 1,
        "bright" => 100,
        var text => text.EndsWith('%') && double.TryParse(text.AsSpan(0, text.Length - 1), NumberStyles.Float, CultureInfo.InvariantCulture, out double percent) ? percent : null,
    };
}
