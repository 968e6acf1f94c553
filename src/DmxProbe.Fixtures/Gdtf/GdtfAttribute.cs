using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>
/// What a GDTF attribute (annex A of the specification) is in the words of a chart. Numbers in names (Shutter1) do not
/// matter to what it does. A name that is not in the table is unknown, unless its words name a hazard.
/// </summary>
/// <param name="Role">Role of the slot.</param>
/// <param name="Kind">How its ranges are taken.</param>
/// <param name="Word">The word for it; an unknown attribute verbatim.</param>
internal sealed record GdtfAttribute(SlotRole Role, AttributeKind Kind, string Word)
{
    private static readonly Dictionary<string, (SlotRole Role, AttributeKind Kind, string Word)> Exact = new(StringComparer.OrdinalIgnoreCase)
    {
        ["NoFeature"] = (SlotRole.None, AttributeKind.Nothing, "No function"),
        ["Dimmer"] = (SlotRole.Intensity, AttributeKind.Amount, "Dimmer"),
        ["DIM"] = (SlotRole.Intensity, AttributeKind.Amount, "Dimmer"),
        ["ColorAdd_R"] = (SlotRole.Red, AttributeKind.Amount, "Red"),
        ["ColorAdd_G"] = (SlotRole.Green, AttributeKind.Amount, "Green"),
        ["ColorAdd_B"] = (SlotRole.Blue, AttributeKind.Amount, "Blue"),
        ["ColorAdd_W"] = (SlotRole.White, AttributeKind.Amount, "White"),
        ["ColorAdd_WW"] = (SlotRole.White, AttributeKind.Amount, "Warm white"),
        ["ColorAdd_CW"] = (SlotRole.White, AttributeKind.Amount, "Cold white"),
        ["ColorAdd_RY"] = (SlotRole.Amber, AttributeKind.Amount, "Amber"),
        ["ColorAdd_UV"] = (SlotRole.UltraViolet, AttributeKind.Amount, "UV"),
        ["ColorAdd_GY"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Lime"),
        ["ColorAdd_C"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Cyan emitter"),
        ["ColorAdd_M"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Magenta emitter"),
        ["ColorAdd_Y"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Yellow emitter"),
        ["ColorAdd_GC"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Blue-green emitter"),
        ["ColorAdd_BC"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Light blue emitter"),
        ["ColorAdd_BM"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Purple emitter"),
        ["ColorAdd_RM"] = (SlotRole.OtherEmitter, AttributeKind.Amount, "Pink emitter"),
        ["ColorRGB_Red"] = (SlotRole.Red, AttributeKind.Amount, "Red"),
        ["ColorRGB_Green"] = (SlotRole.Green, AttributeKind.Amount, "Green"),
        ["ColorRGB_Blue"] = (SlotRole.Blue, AttributeKind.Amount, "Blue"),
        ["ColorRGB_Cyan"] = (SlotRole.Beam, AttributeKind.Steady, "Cyan"),
        ["ColorRGB_Magenta"] = (SlotRole.Beam, AttributeKind.Steady, "Magenta"),
        ["ColorRGB_Yellow"] = (SlotRole.Beam, AttributeKind.Steady, "Yellow"),
        ["ColorSub_C"] = (SlotRole.Beam, AttributeKind.Steady, "Cyan"),
        ["ColorSub_M"] = (SlotRole.Beam, AttributeKind.Steady, "Magenta"),
        ["ColorSub_Y"] = (SlotRole.Beam, AttributeKind.Steady, "Yellow"),
        ["ColorSub_R"] = (SlotRole.Beam, AttributeKind.Steady, "Red filter"),
        ["ColorSub_G"] = (SlotRole.Beam, AttributeKind.Steady, "Green filter"),
        ["ColorSub_B"] = (SlotRole.Beam, AttributeKind.Steady, "Blue filter"),
        ["Color(n)"] = (SlotRole.Beam, AttributeKind.Select, "Colour wheel"),
        ["Gobo(n)"] = (SlotRole.Beam, AttributeKind.Select, "Gobo"),
        ["Prism(n)"] = (SlotRole.Beam, AttributeKind.Select, "Prism"),
        ["AnimationWheel(n)"] = (SlotRole.Beam, AttributeKind.Select, "Animation wheel"),
        ["CTO"] = (SlotRole.Beam, AttributeKind.Steady, "CTO"),
        ["CTC"] = (SlotRole.Beam, AttributeKind.Steady, "CTC"),
        ["CTB"] = (SlotRole.Beam, AttributeKind.Steady, "CTB"),
        ["Tint"] = (SlotRole.Beam, AttributeKind.Steady, "Tint"),
        ["Shutter(n)"] = (SlotRole.Shutter, AttributeKind.Shutter, "Shutter"),
        ["StrobeRate"] = (SlotRole.Shutter, AttributeKind.Strobe, "Strobe rate"),
        ["StrobeFrequency"] = (SlotRole.Shutter, AttributeKind.Strobe, "Strobe frequency"),
        ["StrobeDuration"] = (SlotRole.Speed, AttributeKind.Speed, "Strobe duration"),
        ["StrobeMode"] = (SlotRole.Control, AttributeKind.Setting, "Strobe mode"),
        ["StrobeModeShutter"] = (SlotRole.Shutter, AttributeKind.Shutter, "Shutter mode"),
        ["Pan"] = (SlotRole.Position, AttributeKind.Steady, "Pan"),
        ["Tilt"] = (SlotRole.Position, AttributeKind.Steady, "Tilt"),
        ["PanRotate"] = (SlotRole.Position, AttributeKind.Steady, "Pan rotation"),
        ["TiltRotate"] = (SlotRole.Position, AttributeKind.Steady, "Tilt rotation"),
        ["PositionEffect"] = (SlotRole.Programme, AttributeKind.Programme, "Movement effect"),
        ["Zoom"] = (SlotRole.Beam, AttributeKind.Steady, "Zoom"),
        ["Iris"] = (SlotRole.Beam, AttributeKind.Steady, "Iris"),
        ["FixtureGlobalReset"] = (SlotRole.Control, AttributeKind.Action, "Reset"),
        ["LampControl"] = (SlotRole.Control, AttributeKind.Action, "Lamp control"),
        ["LampPowerMode"] = (SlotRole.Control, AttributeKind.Action, "Lamp power mode"),
        ["Fog(n)"] = (SlotRole.Hazard, AttributeKind.Hazard, "Fog"),
        ["Haze(n)"] = (SlotRole.Hazard, AttributeKind.Hazard, "Haze"),
    };

    // Families of annex A, by how a name begins or ends; the first that fits holds.
    private static readonly (string Start, string End, SlotRole Role, AttributeKind Kind)[] Families =
    [
        ("", "Reset", SlotRole.Control, AttributeKind.Action),
        ("", "MSpeed", SlotRole.Speed, AttributeKind.Speed),
        ("Shutter(n)Strobe", "", SlotRole.Shutter, AttributeKind.Strobe),
        ("StrobeMode", "", SlotRole.Shutter, AttributeKind.Strobe),
        ("Iris", "Mode", SlotRole.Control, AttributeKind.Setting),
        ("Iris", "", SlotRole.Beam, AttributeKind.Strobe), // IrisStrobe, IrisPulseClose and the like flash
        ("Frost(n)Pulse", "", SlotRole.Beam, AttributeKind.Strobe),
        ("Frost(n)Ramp", "", SlotRole.Beam, AttributeKind.Strobe),
        ("", "Audio", SlotRole.Programme, AttributeKind.Programme),
        ("", "Macro", SlotRole.Programme, AttributeKind.Programme),
        ("", "Macro(n)", SlotRole.Programme, AttributeKind.Programme),
        ("ColorMacro(n)Rate", "", SlotRole.Speed, AttributeKind.Speed),
        ("Effects(n)Rate", "", SlotRole.Speed, AttributeKind.Speed),
        ("Effects(n)Fade", "", SlotRole.Speed, AttributeKind.Speed),
        ("Effects", "", SlotRole.Programme, AttributeKind.Programme),
        ("ColorEffects", "", SlotRole.Programme, AttributeKind.Programme),
        ("", "Mode", SlotRole.Control, AttributeKind.Setting),
        ("DimmerCurve", "", SlotRole.Control, AttributeKind.Setting),
        ("Control(n)", "", SlotRole.Control, AttributeKind.Setting),
        ("Fan", "", SlotRole.Control, AttributeKind.Setting),
        ("Color(n)Wheel", "", SlotRole.Beam, AttributeKind.Steady),
        ("Gobo(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("AnimationWheel(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("AnimationSystem(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("AnimationIndexRotate", "", SlotRole.Beam, AttributeKind.Steady),
        ("Prism(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("Frost(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("BeamShaper", "", SlotRole.Beam, AttributeKind.Steady),
        ("Zoom", "", SlotRole.Beam, AttributeKind.Steady),
        ("DigitalZoom", "", SlotRole.Beam, AttributeKind.Steady),
        ("Focus(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("Blade(n)", "", SlotRole.Beam, AttributeKind.Steady),
        ("Shaper", "", SlotRole.Beam, AttributeKind.Steady),
        ("XYZ_", "", SlotRole.Position, AttributeKind.Steady),
        ("Rot_", "", SlotRole.Position, AttributeKind.Steady),
    ];

    /// <summary>What an attribute is.</summary>
    /// <param name="name">Its name; untrusted text. Of a link with points the last part counts.</param>
    public static GdtfAttribute Of(string? name)
    {
        string plain = CellText.Fit(name ?? "", ChartReader.MaxName - 20);
        if (plain.Length == 0)
        {
            return new GdtfAttribute(SlotRole.None, AttributeKind.Nothing, "No function");
        }

        string family = Family(plain, out string number);
        if (Exact.TryGetValue(plain, out (SlotRole Role, AttributeKind Kind, string Word) known) || Exact.TryGetValue(family, out known))
        {
            return new GdtfAttribute(known.Role, known.Kind, number is "" or "1" ? known.Word : known.Word + " " + number);
        }

        foreach ((string start, string end, SlotRole role, AttributeKind kind) in Families)
        {
            if (family.StartsWith(start, StringComparison.OrdinalIgnoreCase) && family.EndsWith(end, StringComparison.OrdinalIgnoreCase))
            {
                return new GdtfAttribute(role, kind, Spaced(plain));
            }
        }

        return RoleInference.RoleOf(plain, []) == SlotRole.Hazard
            ? new GdtfAttribute(SlotRole.Hazard, AttributeKind.Hazard, plain)
            : new GdtfAttribute(SlotRole.Unknown, AttributeKind.Unknown, plain);
    }

    /// <summary>The name as annex A writes it: <c>Gobo2Pos</c> is <c>Gobo(n)Pos</c>.</summary>
    private static string Family(string name, out string number)
    {
        StringBuilder family = new();
        number = "";
        for (int i = 0; i < name.Length;)
        {
            int end = i;
            while (end < name.Length && char.IsAsciiDigit(name[end]))
            {
                end++;
            }

            if (end == i)
            {
                family.Append(name[i++]);
                continue;
            }

            number = number.Length == 0 ? name[i..end] : number;
            family.Append("(n)");
            i = end;
        }

        return family.ToString();
    }

    /// <summary>A name with its words apart: <c>Gobo2PosRotate</c> is <c>Gobo 2 pos rotate</c>.</summary>
    private static string Spaced(string name)
    {
        StringBuilder words = new();
        foreach (char c in name)
        {
            bool starts = words.Length > 0 && (char.IsUpper(c) || (char.IsAsciiDigit(c) && !char.IsAsciiDigit(words[^1])));
            bool acronym = words.Length > 0 && char.IsUpper(words[^1]) && char.IsUpper(c);
            _ = starts && !acronym ? words.Append(' ').Append(char.ToLower(c, CultureInfo.InvariantCulture)) : words.Append(c == '_' ? ' ' : c);
        }

        return words.ToString();
    }
}
