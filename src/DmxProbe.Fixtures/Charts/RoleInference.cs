namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Reads the role of a slot from the chart's own words. The table is spelled out: what it does not know is
/// <see cref="SlotRole.Unknown"/> and counts as dangerous. Words are common practice of charts, no source.
/// </summary>
public static class RoleInference
{
    // 'Motor' often means the pan motor; it may as well mean a hoist, so it counts as dangerous.
    private static readonly string[] Hazard =
    [
        "FOG", "FOGGER", "HAZE", "HAZER", "SMOKE", "PUMP", "PYRO", "PYROTECHNIC", "PYROTECHNICS", "FLAME", "FLAMES", "FIRE", "SPARK", "SPARKS", "LASER",
        "LASERS", "HOIST", "MOTOR", "MOTORS", "WINCH", "LIFT", "TRAP", "CONFETTI", "STREAMER", "CO2", "CRYO", "SNOW", "BUBBLE", "BUBBLES", "KABUKI", "IGNITION", "ARM", "ARMING",
    ];

    private static readonly string[] Nothing = ["NO FUNCTION", "NO EFFECT", "NOT USED", "UNUSED", "SPARE", "NONE", "EMPTY", "DUMMY", "NOTHING"];
    private static readonly string[] FineByte = ["FINE", "LSB", "LOW BYTE"];
    private static readonly string[] ShutterWords = ["SHUTTER", "STROBE", "STROB", "FLASH"];
    private static readonly string[] IntensityWords = ["DIMMER", "DIM", "INTENSITY", "MASTER", "BRIGHTNESS", "LUMINANCE", "LEVEL"];
    private static readonly string[] SpeedWords = ["SPEED", "RATE", "TIME", "DELAY", "TEMPO"];
    private static readonly string[] ControlWords = ["CONTROL", "RESET", "LAMP", "CALIBRATION", "CALIBRATE", "SETTINGS", "SETTING", "CURVE", "HOME", "FAN", "SENSITIVITY"];

    private static readonly string[] ProgrammeWords =
    [
        "MACRO", "MACROS", "PROGRAMME", "PROGRAMMES", "PROGRAM", "PROGRAMS", "AUTO", "AUTOMATIC", "SOUND", "MUSIC", "CHASE", "CHASER", "SHOW", "SHOWS",
        "EFFECT", "EFFECTS", "FX", "PRESET", "PRESETS", "DEMO", "MASTER SLAVE",
    ];

    private static readonly string[] PositionWords = ["PAN", "TILT", "MOVEMENT", "POSITION"];

    // Colour wheels and filters stand in the beam; they are no emitters and the model takes them as no change of brightness.
    private static readonly string[] BeamWords =
    [
        "ZOOM", "FOCUS", "IRIS", "GOBO", "GOBOS", "FROST", "PRISM", "BLADE", "FRAMING", "COLOUR WHEEL", "COLOR WHEEL", "ANIMATION",
        "CYAN", "MAGENTA", "YELLOW", "CTO", "CTB", "CTC", "COLOUR TEMPERATURE", "COLOR TEMPERATURE", "WHITE BALANCE",
    ];

    private static readonly (SlotRole Role, string[] Words)[] Colours =
    [
        (SlotRole.UltraViolet, ["UV", "ULTRAVIOLET", "ULTRA VIOLET"]), (SlotRole.White, ["WHITE", "WW", "CW", "WARM WHITE", "COLD WHITE"]), (SlotRole.Amber, ["AMBER"]),
        (SlotRole.OtherEmitter, ["LIME", "MINT", "INDIGO"]), (SlotRole.Red, ["RED", "R"]), (SlotRole.Green, ["GREEN", "G"]), (SlotRole.Blue, ["BLUE", "B"]),
    ];

    private static readonly (SlotRole Role, string[] Words)[] LoneLetters = [(SlotRole.White, ["W"]), (SlotRole.Amber, ["A"])];

    /// <summary>The role of a slot.</summary>
    /// <param name="function">The chart's word for the slot; any text.</param>
    /// <param name="meanings">What the chart says about its ranges; any text.</param>
    /// <returns>The role; a danger named in a meaning outweighs a harmless name.</returns>
    public static SlotRole RoleOf(string function, IEnumerable<string> meanings)
    {
        ArgumentNullException.ThrowIfNull(function);
        ArgumentNullException.ThrowIfNull(meanings);
        SlotRole role = OfWords(ChartWords.Of(function));
        List<string> said = [.. meanings.Select(ChartWords.Of).Where(words => words.Length > 1)];
        // These are kept out of every suggested look anyway, and their words are loose: a macro called "fire", a "motor" reset.
        bool dangerousAlready = role is SlotRole.Programme or SlotRole.Position or SlotRole.Control or SlotRole.Speed or SlotRole.Shutter or SlotRole.Hazard;
        if (!dangerousAlready && said.Any(words => ChartWords.Has(words, Hazard)))
        {
            return SlotRole.Hazard;
        }

        if (role != SlotRole.Unknown || said.Count == 0)
        {
            return role;
        }

        // A chart that numbers its slots ("Channel 4") says what they do in the ranges: believed when all say one thing.
        SlotRole first = OfWords(said[0]);
        return said.All(words => OfWords(words) == first) ? first : SlotRole.Unknown;
    }

    private static SlotRole OfWords(string words)
    {
        if (ChartWords.Has(words, Hazard))
        {
            return SlotRole.Hazard;
        }

        if (ChartWords.Has(words, Nothing))
        {
            return SlotRole.None;
        }

        if (ChartWords.Has(words, FineByte))
        {
            return SlotRole.Fine;
        }

        if (ChartWords.Has(words, ShutterWords))
        {
            // "Dimmer / strobe": one slot for both; its ranges say where it strobes.
            return ChartWords.Has(words, IntensityWords) ? SlotRole.Intensity : SlotRole.Shutter;
        }

        if (ChartWords.Has(words, SpeedWords))
        {
            return SlotRole.Speed;
        }

        if (ChartWords.Has(words, ControlWords))
        {
            return SlotRole.Control;
        }

        if (ChartWords.Has(words, ProgrammeWords))
        {
            return SlotRole.Programme;
        }

        if (ChartWords.Has(words, PositionWords))
        {
            return SlotRole.Position;
        }

        return ChartWords.Has(words, BeamWords) ? SlotRole.Beam : OfLight(words);
    }

    private static SlotRole OfLight(string words)
    {
        SlotRole role = SlotRole.Unknown;
        foreach ((SlotRole colour, string[] names) in Colours)
        {
            if (ChartWords.Has(words, names))
            {
                // Two colours in one slot ("red to green", "RGB level B") is no emitter.
                if (role != SlotRole.Unknown)
                {
                    return SlotRole.Unknown;
                }

                role = colour;
            }
        }

        if (role != SlotRole.Unknown)
        {
            return role;
        }

        if (ChartWords.Has(words, IntensityWords))
        {
            return SlotRole.Intensity;
        }

        // A lone letter is a colour only when it is the whole name: "A" may be a label in anything longer.
        foreach ((SlotRole colour, string[] names) in LoneLetters)
        {
            if (words == " " + names[0] + " ")
            {
                return colour;
            }
        }

        return SlotRole.Unknown;
    }
}
