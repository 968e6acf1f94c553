using System.Globalization;
using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Reporting.Json;

/// <summary>What a check of a patch sheet found, as JSON.</summary>
public static class PatchJson
{
    /// <summary>Writes the findings.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="map">By sheet universe, what it is in the capture; null without a capture.</param>
    /// <param name="findings">What is wrong.</param>
    public static void Write(
        Stream output,
        PatchSheet sheet,
        IReadOnlyDictionary<int, UniverseId>? map,
        IReadOnlyList<PatchFinding> findings) =>
        JsonPage.Write(output, "patch check", json =>
        {
            json.WriteNumber("units", sheet.Units.Count);
            json.Numbers("universes", sheet.Universes);
            json.Map(map);
            json.Objects("findings", findings, Finding);
        });

    /// <summary>Writes <c>map</c>: an object whose names are sheet universes.</summary>
    internal static void Map(this Utf8JsonWriter json, IReadOnlyDictionary<int, UniverseId>? map)
    {
        if (map is null)
        {
            json.WriteNull("map");
            return;
        }

        json.WriteStartObject("map");
        foreach ((int sheet, UniverseId wire) in map)
        {
            json.WriteStartObject(sheet.ToString(CultureInfo.InvariantCulture));
            json.WriteString("protocol", JsonWords.Of(wire.Protocol));
            json.WriteNumber("number", wire.Number);
            json.WriteString("label", wire.Label);
            json.WriteEndObject();
        }

        json.WriteEndObject();
    }

    private static void Finding(Utf8JsonWriter json, PatchFinding finding)
    {
        json.Text("id", finding.Id);
        json.WriteString("severity", finding.Severity == PatchSeverity.Fault ? "fault" : "warning");
        json.Texts("units", finding.Units);
        json.Text("text", finding.Text);
        json.TextOrNull("action", finding.Action);
        json.WriteNumber("line", finding.Line);
    }
}
