using System.Text.Json;

namespace DmxProbe.Reporting.Json;

/// <summary>The inputs of this computer as JSON.</summary>
public static class InputsJson
{
    /// <summary>Writes the list.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="inputs">The inputs.</param>
    public static void Write(Stream output, IReadOnlyList<InputListing> inputs) =>
        JsonPage.Write(output, "inputs", json => json.Objects("available", inputs, Row));

    private static void Row(Utf8JsonWriter json, InputListing input)
    {
        json.Text("word", input.Word);
        json.WriteString("kind", input.Kind);
        json.Text("name", input.Name);
        json.Text("description", input.Description);
        json.Texts("addresses", input.Addresses);
        Truth(json, "up", input.IsUp);
        Truth(json, "wireless", input.IsWireless);
        json.Figure("linkMbitPerSecond", input.LinkMbitPerSecond);
        json.Text("measures", input.Measures);
        json.TextOrNull("inUse", input.InUse);
    }

    private static void Truth(Utf8JsonWriter json, string name, bool? value)
    {
        if (value is bool known)
        {
            json.WriteBoolean(name, known);
        }
        else
        {
            json.WriteNull(name);
        }
    }
}
