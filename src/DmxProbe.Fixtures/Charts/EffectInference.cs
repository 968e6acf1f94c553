using System.Globalization;
using System.Text.RegularExpressions;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Reads what a range does from the chart's own words and the role of its slot. What the table does not know is
/// <see cref="RangeEffect.Unknown"/>. Words are common practice of charts, no source.
/// </summary>
public static partial class EffectInference
{
    private static readonly string[] Nothing = ["NO FUNCTION", "NO EFFECT", "NOT USED", "UNUSED", "NONE", "NOTHING", "IDLE", "NOT ACTIVE", "INACTIVE"];
    private static readonly string[] NoStrobe = ["NO STROBE", "STROBE OFF", "NO FLASH", "FLASH OFF", "STEADY", "NO SHUTTER", "NO STROBING", "WITHOUT STROBE"];
    private static readonly string[] Flash = ["STROBE", "STROBING", "STROBES", "STROB", "FLASH", "FLASHING", "FLASHES", "PULSE", "PULSES", "PULSING", "RANDOM", "LIGHTNING", "BLINK", "BLINKING", "HZ"];
    private static readonly string[] Closed = ["CLOSED", "CLOSE", "BLACKOUT", "BLACK OUT", "BLACK", "DARK"];
    private static readonly string[] Open = ["OPEN", "OPENED", "FULL ON"];
    private static readonly string[] Full = ["FULL", "OPEN", "MAX", "MAXIMUM", "FULL ON", "ON"];
    private static readonly string[] Off = ["OFF"];
    private static readonly string[] Amounts = ["DIMMER", "DIM", "DIMMING", "INTENSITY", "BRIGHTNESS", "LEVEL", "MASTER", "LINEAR", "PROPORTIONAL", "INCREASING", "INCREASE", "OUTPUT"];
    private static readonly string[] Falling = ["DECREASING", "DECREASE", "INVERTED", "INVERSE", "REVERSED", "BRIGHT TO DARK", "FULL TO OFF", "FULL TO ZERO", "MAX TO MIN", "OPEN TO CLOSED"];
    private static readonly string[] Rising = ["DARK TO BRIGHT", "OFF TO FULL", "OFF TO ON", "ZERO TO FULL", "MIN TO MAX", "MIN MAX", "CLOSED TO OPEN", "DARK TO FULL", "TO FULL"];
    private static readonly string[] Gradual = ["SLOW", "FAST", "MIN", "MAX", "INCREASING", "DECREASING", "LEFT", "RIGHT", "NARROW", "WIDE", "NEAR", "FAR", "DEGREES", "DEG", "SPEED", "COARSE", "PAN", "TILT", "ZOOM", "FOCUS"];

    private static readonly string[] Programme =
    [
        "MACRO", "MACROS", "PROGRAMME", "PROGRAMMES", "PROGRAM", "PROGRAMS", "AUTO", "AUTOMATIC", "SOUND", "MUSIC", "CHASE", "CHASER", "SHOW", "SHOWS", "DEMO",
        "EFFECT", "EFFECTS", "RAINBOW", "PRESET", "PRESETS",
    ];

    private static readonly string[] Control =
    [
        "RESET", "RESETS", "LAMP", "CALIBRATE", "CALIBRATION", "HOME", "HOMING", "REBOOT", "RESTART", "SHUTDOWN", "SHUT DOWN", "POWER OFF", "POWER DOWN", "FACTORY",
    ];

    /// <summary>The effect of a range.</summary>
    /// <param name="role">The role of the slot.</param>
    /// <param name="function">The chart's word for the slot.</param>
    /// <param name="meaning">The chart's word for the range; may be empty.</param>
    public static RangeEffect EffectOf(SlotRole role, string function, string meaning)
    {
        ArgumentNullException.ThrowIfNull(function);
        ArgumentNullException.ThrowIfNull(meaning);
        string words = ChartWords.Of(meaning);
        if (ChartWords.Has(words, Nothing))
        {
            return RangeEffect.NoFunction;
        }

        // Only a programme slot starts a programme by its speed or a name of its own; the speed slot merely paces it.
        if (role is not (SlotRole.Speed or SlotRole.Fine) && ChartWords.Has(words, Control))
        {
            return RangeEffect.ControlAction;
        }

        if (role is not (SlotRole.Speed or SlotRole.Fine or SlotRole.Programme) && ChartWords.Has(words, Programme))
        {
            return RangeEffect.ProgrammeRuns;
        }

        return role switch
        {
            SlotRole.None => RangeEffect.NoFunction,
            SlotRole.Fine or SlotRole.Speed => RangeEffect.Proportional,
            SlotRole.Programme => ChartWords.Has(words, Off) ? RangeEffect.NoFunction : RangeEffect.ProgrammeRuns,
            SlotRole.Shutter => OfShutter(ChartWords.Of(function), words, meaning),
            SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet or SlotRole.OtherEmitter =>
                OfAmount(role, words, meaning),
            SlotRole.Position or SlotRole.Beam or SlotRole.Hazard => OfOther(words, meaning),
            _ => RangeEffect.Unknown,
        };
    }

    private static RangeEffect OfShutter(string function, string words, string meaning)
    {
        bool strobeSlot = !ChartWords.Has(function, ["SHUTTER"]);
        if (ChartWords.Has(words, NoStrobe))
        {
            return RangeEffect.Open;
        }

        if (ChartWords.Has(words, Flash))
        {
            return RangeEffect.Flashing;
        }

        bool closed = ChartWords.Has(words, Closed), open = ChartWords.Has(words, Open);
        if (closed || open)
        {
            return closed && open ? RangeEffect.Unknown : closed ? RangeEffect.Closed : RangeEffect.Open;
        }

        // A strobe that is off lets light through; a shutter that is off may be either.
        if (ChartWords.Has(words, Off))
        {
            return strobeSlot ? RangeEffect.Open : RangeEffect.Unknown;
        }

        if (strobeSlot)
        {
            bool rate = words.Length == 1 || ChartWords.Has(words, Gradual) || Ramp(meaning) != 0;
            return rate ? RangeEffect.Flashing : RangeEffect.Unknown;
        }

        return Ramp(meaning) > 0 ? RangeEffect.Proportional : RangeEffect.Unknown;
    }

    private static RangeEffect OfAmount(SlotRole role, string words, string meaning)
    {
        if (ChartWords.Has(words, NoStrobe))
        {
            return RangeEffect.Open;
        }

        if (ChartWords.Has(words, Flash))
        {
            return RangeEffect.Flashing;
        }

        // The contract has no falling ramp: better not predictable than upside down.
        int ramp = Ramp(meaning);
        if (ramp < 0 || ChartWords.Has(words, Falling))
        {
            return RangeEffect.Unknown;
        }

        if (ramp > 0 || ChartWords.Has(words, Rising))
        {
            return RangeEffect.Proportional;
        }

        bool off = ChartWords.Has(words, Off) || ChartWords.Has(words, Closed), full = ChartWords.Has(words, Full);
        if (off || full)
        {
            return off && full ? RangeEffect.Unknown : off ? RangeEffect.Closed : RangeEffect.Open;
        }

        bool plain = words.Length == 1 ? !meaning.Any(char.IsDigit) : ChartWords.Has(words, Amounts) || RoleInference.RoleOf(meaning, []) == role;
        return plain ? RangeEffect.Proportional : RangeEffect.Unknown;
    }

    private static RangeEffect OfOther(string words, string meaning)
    {
        bool closed = ChartWords.Has(words, Closed), open = ChartWords.Has(words, Open);
        if (closed != open)
        {
            return closed ? RangeEffect.Closed : RangeEffect.Open;
        }

        if (ChartWords.Has(words, Off))
        {
            return RangeEffect.NoFunction;
        }

        bool plain = meaning.Length == 0 || Ramp(meaning) != 0 || ChartWords.Has(words, Gradual) || ChartWords.Has(words, Amounts);
        return plain ? RangeEffect.Proportional : RangeEffect.Unknown;
    }

    /// <summary>1 for a rising ramp in the words (<c>0-100%</c>), -1 for a falling one, 0 when there is none.</summary>
    private static int Ramp(string meaning)
    {
        Match match = Percent().Match(meaning);
        return match.Success
            ? Math.Sign(int.Parse(match.Groups["to"].ValueSpan, CultureInfo.InvariantCulture) - int.Parse(match.Groups["from"].ValueSpan, CultureInfo.InvariantCulture))
            : 0;
    }

    [GeneratedRegex(@"(?<![0-9])(?<from>[0-9]{1,3})\s?%?\s?(-|–|—|~|to|\.\.+|…|→|>|->)\s?(?<to>[0-9]{1,3})\s?%", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase)]
    private static partial Regex Percent();
}
