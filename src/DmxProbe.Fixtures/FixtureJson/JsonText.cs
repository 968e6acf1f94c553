using System.Text.Json;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>Looks into JSON of unknown origin: what is missing or of another kind is null, never an exception.</summary>
internal static class JsonText
{
    /// <summary>A property of an object; null when it is not there or this is no object.</summary>
    public static JsonElement? Get(this JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out JsonElement found) && found.ValueKind != JsonValueKind.Null ? found : null;

    /// <summary>A text or a number as text; empty otherwise.</summary>
    public static string Text(this JsonElement? element) => element switch
    {
        { ValueKind: JsonValueKind.String } text => Decoded(text),
        { ValueKind: JsonValueKind.Number } number => number.GetRawText(),
        _ => "",
    };

    /// <summary>A whole number; null for anything else.</summary>
    public static long? Whole(this JsonElement? element) => element is { ValueKind: JsonValueKind.Number } number && number.TryGetInt64(out long value) ? value : null;

    /// <summary>The members of an array; none for anything else.</summary>
    public static IEnumerable<JsonElement> Members(this JsonElement? element) => element is { ValueKind: JsonValueKind.Array } array ? array.EnumerateArray() : [];

    /// <summary>The texts of an array; members of another kind are left out.</summary>
    public static IEnumerable<string> Texts(this JsonElement? element) => element.Members().Where(member => member.ValueKind == JsonValueKind.String).Select(Decoded);

    /// <summary>The properties of an object; none for anything else, and none whose name is no text.</summary>
    public static IEnumerable<(string Name, JsonElement Value)> Properties(this JsonElement? element)
    {
        if (element is not { ValueKind: JsonValueKind.Object } named)
        {
            yield break;
        }

        foreach (JsonProperty property in named.EnumerateObject())
        {
            yield return (Name(property), property.Value);
        }
    }

    // The library throws for an escape that is half a character (\uD800): such a text is no name.
    private static string Decoded(JsonElement text)
    {
        try
        {
            return text.GetString() ?? "";
        }
        catch (InvalidOperationException)
        {
            return "";
        }
    }

    private static string Name(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            return "";
        }
    }
}
