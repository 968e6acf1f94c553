using System.Text.Json;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>Says a capability in the file's own words.</summary>
internal static class JsonMeaning
{
    private const string Start = "Start", End = "End";
    private static readonly string[] Main = ["shutterEffect", "effectName", "effectPreset", "fogType", "parameter"];

    /// <summary>The words; empty when the file has none beyond the kind.</summary>
    /// <param name="capability">The capability.</param>
    /// <param name="wheels">The wheels of the fixture.</param>
    /// <param name="channel">Name of the channel: its wheel unless another is named.</param>
    public static string Of(JsonElement capability, JsonElement? wheels, string channel)
    {
        List<string> words = [.. Main.Select(name => capability.Get(name).Text()).Where(text => text.Length > 0)];
        string kind = capability.Get("type").Text();
        if (kind == "NoFunction")
        {
            words.Add("No function");
        }
        else if (kind is "WheelSlot" or "WheelShake" && capability.Get("slotNumber").Whole() is long number)
        {
            words.Add(WheelSlot(capability, wheels, channel, number));
        }

        foreach ((string name, JsonElement value) in ((JsonElement?)capability).Properties())
        {
            if (name.EndsWith(Start, StringComparison.Ordinal) && name.Length > Start.Length && capability.Get(name[..^Start.Length] + End) is { } end)
            {
                words.Add($"{((JsonElement?)value).Text()} to {((JsonElement?)end).Text()}");
            }
            else if (name is "brightness" or "speed" or "angle" or "colorTemperature" or "openPercent" or "distance" or "frostIntensity" or "fogOutput" or "duration" or "time")
            {
                words.Add(((JsonElement?)value).Text());
            }
        }

        bool sound = capability.Get("soundControlled") is { ValueKind: JsonValueKind.True };
        string all = string.Join(", ", sound ? words.Append("sound controlled") : words);
        string comment = capability.Get("comment").Text();
        return CellText.Fit(comment.Length == 0 ? all : all.Length == 0 ? comment : $"{all}: {comment}", MaxMeaning);
    }

    private const int MaxMeaning = 400;

    private static string WheelSlot(JsonElement capability, JsonElement? wheels, string channel, long number)
    {
        string wheel = capability.Get("wheel").Text() is { Length: > 0 } named ? named : channel;
        JsonElement? slot = number >= 1 && number <= 1000 && wheels?.Get(wheel)?.Get("slots") is { } slots
            ? slots is { ValueKind: JsonValueKind.Array } && slots.GetArrayLength() >= number ? slots[(int)number - 1] : null
            : null;
        string name = slot?.Get("name").Text() is { Length: > 0 } said ? said : slot?.Get("type").Text() ?? "";
        return name.Length > 0 ? name : "wheel slot " + JsonReaderNumbers.Number(number);
    }
}
