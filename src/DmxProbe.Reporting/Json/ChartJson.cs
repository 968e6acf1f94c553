using System.Text.Json;

using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Reporting.Json;

/// <summary>A chart as JSON.</summary>
public static class ChartJson
{
    /// <summary>Writes a chart.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="chart">The chart.</param>
    /// <param name="notes">What was left out of it, a sentence each; null for nothing.</param>
    public static void Write(Stream output, Chart chart, IReadOnlyList<string>? notes = null) =>
        JsonPage.Write(output, "chart show", json =>
        {
            json.Text("type", chart.Type);
            json.Objects("modes", chart.Modes, Mode);
            json.Texts("notes", notes ?? []);
        });

    private static void Mode(Utf8JsonWriter json, ChartMode mode)
    {
        json.Text("name", mode.Name);
        json.WriteNumber("footprint", mode.Footprint);
        json.Objects("slots", mode.Slots, Slot);
    }

    private static void Slot(Utf8JsonWriter json, ChartSlot slot)
    {
        json.WriteNumber("slot", slot.Slot);
        json.Text("function", slot.Function);
        json.WriteString("role", JsonNamingPolicy.CamelCase.ConvertName(slot.Role.ToString()));
        json.WriteStartArray("lowSlots");
        foreach (int low in slot.LowSlots)
        {
            json.WriteNumberValue(low);
        }

        json.WriteEndArray();
        if (slot.Default is int initial)
        {
            json.WriteNumber("default", initial);
        }
        else
        {
            json.WriteNull("default");
        }

        json.Text("cell", slot.Cell);
        json.Objects("ranges", slot.Ranges, Range);
        json.Objects("exact", slot.Exact, Exact);
    }

    private static void Range(Utf8JsonWriter json, ChartRange range)
    {
        json.WriteNumber("from", range.From);
        json.WriteNumber("to", range.To);
        json.Text("meaning", range.Meaning);
        json.WriteString("effect", JsonNamingPolicy.CamelCase.ConvertName(range.Effect.ToString()));
    }

    private static void Exact(Utf8JsonWriter json, ExactRange range)
    {
        json.WriteNumber("from", range.From);
        json.WriteNumber("to", range.To);
        json.Text("meaning", range.Meaning);
        json.WriteString("effect", JsonNamingPolicy.CamelCase.ConvertName(range.Effect.ToString()));
        if (range.When is null)
        {
            json.WriteNull("when");
            return;
        }

        json.WriteStartObject("when");
        json.WriteNumber("slot", range.When.Slot);
        json.WriteNumber("from", range.When.From);
        json.WriteNumber("to", range.When.To);
        json.WriteEndObject();
    }
}
