using System.Globalization;
using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Rdm;
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
    /// <param name="recognition">What was recognised in the sheet.</param>
    /// <param name="dangerous">Slots that can hurt.</param>
    /// <param name="rdm">What RDM devices of the capture say; null without one, or without RDM in it.</param>
    public static void Write(
        Stream output,
        PatchSheet sheet,
        IReadOnlyDictionary<int, UniverseId>? map,
        IReadOnlyList<PatchFinding> findings,
        PatchRecognition recognition,
        IReadOnlyList<DangerousSlots> dangerous,
        RdmSheetResult? rdm = null) =>
        JsonPage.Write(output, "patch check", json =>
        {
            json.WriteStartObject("sheet");
            json.Recognition(recognition, sheet);
            json.WriteEndObject();
            json.WriteNumber("units", sheet.Units.Count);
            json.Numbers("universes", sheet.Universes);
            json.Map(map);
            json.Objects("findings", findings, Finding);
            json.Objects("dangerous", dangerous, Dangerous);
            json.RdmSheet(rdm);
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
            json.Universe(wire);
            json.WriteEndObject();
        }

        json.WriteEndObject();
    }

    /// <summary>Writes what was recognised in a sheet.</summary>
    internal static void Recognition(this Utf8JsonWriter json, PatchRecognition recognition, PatchSheet sheet)
    {
        json.Text("format", recognition.Format);
        json.WriteNumber("headingLine", recognition.HeadingLine);
        json.WriteNumber("universeBase", sheet.UniverseBase);
        json.Objects("columns", recognition.Columns, (writer, column) =>
        {
            writer.WriteString("column", JsonNamingPolicy.CamelCase.ConvertName(column.Column.ToString()));
            writer.WriteString("letters", column.Letters);
            writer.Text("heading", column.Heading);
            writer.WriteString("reason", column.Reason);
        });
        json.Texts("ignored", recognition.Ignored);
        json.Texts("notes", recognition.Notes);
    }

    private static void Dangerous(Utf8JsonWriter json, DangerousSlots dangerous)
    {
        json.Text("unit", dangerous.Unit);
        json.Objects("slots", dangerous.Slots, (writer, slot) =>
        {
            writer.WriteNumber("universe", slot.Universe);
            writer.WriteNumber("slot", slot.Slot);
            writer.Text("function", slot.Function);
            writer.WriteString("why", slot.Why);
        });
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
