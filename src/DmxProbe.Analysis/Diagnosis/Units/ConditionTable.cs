using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>A mode of a chart made ready to tell the conditions of a unit in a few look-ups: a byte of signs for each value of each slot that matters.</summary>
internal sealed class ConditionTable
{
    private static readonly string[] Presets = ["macro", "macros", "colour", "colours", "color", "colors", "preset", "presets", "filter", "filters"];
    private static readonly string[] Running =
        ["programme", "programmes", "program", "programs", "auto", "automatic", "sound", "music", "random", "chase", "chases", "rainbow", "effect", "effects", "speed", "fade", "fades"];

    private readonly (int Offset, Sign[] Signs)[] _slots;
    private readonly bool _hasIntensity;
    private readonly bool _hasColours;

    public ConditionTable(ChartMode mode)
    {
        _slots = [.. mode.Slots.Where(slot => slot.Slot <= mode.Footprint && Matters(slot)).Select(slot => (slot.Slot - 1, SignsOf(slot)))];
        _hasIntensity = mode.Slots.Any(slot => slot.Role == SlotRole.Intensity);
        _hasColours = mode.Slots.Any(slot => IsColour(slot.Role));
    }

    [Flags]
    private enum Sign : ushort
    {
        None = 0,
        IntensityUp = 1,
        ColourUp = 2,
        Shut = 4,
        Strobe = 8,
        Overrides = 16,
        Programme = 32,
        Control = 64,
        BeamClosed = 128,
        Unclear = 256,
    }

    /// <summary>The conditions at one moment.</summary>
    /// <param name="slots">The slots from the start address on; those missing count as 0.</param>
    public UnitConditions Judge(ReadOnlySpan<byte> slots)
    {
        Sign all = Sign.None;
        foreach ((int offset, Sign[] signs) in _slots)
        {
            all |= signs[offset < slots.Length ? slots[offset] : 0];
        }

        bool Has(Sign sign) => (all & sign) != 0;
        bool up = (!_hasIntensity || Has(Sign.IntensityUp)) && (!_hasColours || Has(Sign.ColourUp)) && (_hasIntensity || _hasColours);
        UnitConditions told = UnitConditions.None;
        told |= _hasIntensity && !Has(Sign.IntensityUp) && Has(Sign.ColourUp) ? UnitConditions.MasterDown : 0;
        told |= _hasIntensity && _hasColours && Has(Sign.IntensityUp) && !Has(Sign.ColourUp) && !Has(Sign.Overrides | Sign.Programme) ? UnitConditions.ColoursDown : 0;
        told |= up && Has(Sign.Shut) ? UnitConditions.ShutterShut : 0;
        told |= Has(Sign.Strobe) ? (up && !Has(Sign.Shut) ? UnitConditions.StrobeRuns : UnitConditions.StrobeWithoutLight) : 0;
        told |= Has(Sign.Overrides) && Has(Sign.ColourUp) ? UnitConditions.ColoursOverridden : 0;
        told |= Has(Sign.Programme) ? UnitConditions.ProgrammeRuns : 0;
        told |= Has(Sign.Control) ? UnitConditions.ControlAction : 0;
        told |= up && Has(Sign.BeamClosed) ? UnitConditions.BeamClosed : 0;
        told |= Has(Sign.Unclear) ? UnitConditions.NotUnderstood : 0;
        bool light = (up || Has(Sign.Programme | Sign.Overrides)) && !Has(Sign.Shut);
        return (_hasIntensity || _hasColours) && !light ? told | UnitConditions.Dark : told;
    }

    // A preset of colours holds still; a programme, sound or automatic range runs. Words of charts; common practice, no source.
    private static bool IsColourPreset(ChartSlot slot, ChartRange range)
    {
        HashSet<string> words = new(
            (slot.Function + " " + range.Meaning).Split([' ', ',', '.', '-', '/', '(', ')', ':'], StringSplitOptions.RemoveEmptyEntries),
            StringComparer.OrdinalIgnoreCase);
        return words.Overlaps(Presets) && !words.Overlaps(Running);
    }

    private static bool IsColour(SlotRole role) =>
        role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber or SlotRole.UltraViolet;

    private static bool Matters(ChartSlot slot) =>
        slot.Role is not (SlotRole.Fine or SlotRole.None or SlotRole.Position or SlotRole.Speed) || slot.Ranges.Any(range => range.Effect is RangeEffect.ControlAction or RangeEffect.ProgrammeRuns);

    private static Sign[] SignsOf(ChartSlot slot)
    {
        Sign[] signs = new Sign[256];
        for (int value = 0; value < signs.Length; value++)
        {
            signs[value] = SignOf(slot, value, slot.Ranges.FirstOrDefault(range => value >= range.From && value <= range.To));
        }

        return signs;
    }

    private static Sign SignOf(ChartSlot slot, int value, ChartRange? range)
    {
        RangeEffect effect = range?.Effect ?? RangeEffect.Unknown;
        switch (effect)
        {
            case RangeEffect.ControlAction:
                return Sign.Control;
            case RangeEffect.ProgrammeRuns:
                return slot.Role == SlotRole.Programme && IsColourPreset(slot, range!) ? Sign.Overrides : Sign.Programme;
            case RangeEffect.Flashing when slot.Role is SlotRole.Shutter or SlotRole.Intensity:
                return slot.Role == SlotRole.Intensity ? Sign.Strobe | Sign.IntensityUp : Sign.Strobe;
            default:
                break;
        }

        return slot.Role switch
        {
            SlotRole.Intensity => effect is RangeEffect.Open || (effect == RangeEffect.Proportional && value > 0) ? Sign.IntensityUp : Sign.None,
            SlotRole.Shutter => effect switch
            {
                RangeEffect.Closed => Sign.Shut,
                RangeEffect.Unknown => Sign.Unclear,
                _ => Sign.None,
            },
            SlotRole.Programme => effect == RangeEffect.NoFunction ? Sign.None : Sign.Overrides,
            SlotRole.Beam => effect == RangeEffect.Closed ? Sign.BeamClosed : Sign.None,
            _ when IsColour(slot.Role) => effect is RangeEffect.Open || (effect == RangeEffect.Proportional && value > 0) ? Sign.ColourUp : Sign.None,
            _ => Sign.None,
        };
    }
}
