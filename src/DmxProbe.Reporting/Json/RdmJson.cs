using System.Text.Json;

using DmxProbe.Analysis.Rdm;

namespace DmxProbe.Reporting.Json;

/// <summary>RDM devices as JSON.</summary>
internal static class RdmJson
{
    /// <summary>Writes <c>rdm</c>: the devices and what RDM did on each universe; null where there was none.</summary>
    public static void Rdm(this Utf8JsonWriter json, RdmSnapshot? rdm)
    {
        if (rdm is null)
        {
            json.WriteNull("rdm");
            return;
        }

        json.WriteStartObject("rdm");
        json.Objects("devices", rdm.Devices, Device);
        json.Objects("ports", rdm.Ports, Port);
        json.WriteNumber("devicesNotListed", rdm.DevicesNotListed);
        json.WriteEndObject();
    }

    /// <summary>Writes <c>rdm</c> of a check of a sheet; null where there was none.</summary>
    public static void RdmSheet(this Utf8JsonWriter json, RdmSheetResult? result)
    {
        if (result is null)
        {
            json.WriteNull("rdm");
            return;
        }

        json.WriteStartObject("rdm");
        json.WriteNumber("asTheSheetSays", result.AsTheSheetSays);
        json.WriteNumber("compared", result.Compared);
        json.Objects("taken", result.Taken, (writer, taken) =>
        {
            writer.Universe(taken.Universe);
            writer.WriteNumber("sheetUniverse", taken.SheetUniverse);
            writer.WriteBoolean("told", taken.IsTold);
        });
        json.Objects("notCompared", result.NotCompared, JsonPage.Universe);
        json.Objects("remarks", result.Remarks, (writer, remark) =>
        {
            writer.WriteString("id", remark.Id);
            writer.WriteString("severity", JsonWords.Of(remark.Severity));
            writer.Texts("units", remark.Units);
            writer.TextOrNull("uid", remark.Uid);
            writer.Text("text", remark.Text);
            writer.TextOrNull("action", remark.Action);
        });
        json.WriteEndObject();
    }

    private static void Device(Utf8JsonWriter json, RdmDevice device)
    {
        json.Universe(device.Universe);
        json.WriteString("uid", device.Uid.ToString());
        json.Span(device.First, device.Last);
        json.WriteNumber("firstRecord", device.FirstRecord);
        json.WriteBoolean("inTable", device.IsInTable);
        json.WriteBoolean("heard", device.IsHeard);
        json.Figure("modelId", device.ModelId);
        json.TextOrNull("manufacturer", device.Manufacturer);
        json.TextOrNull("model", device.Model);
        json.TextOrNull("deviceLabel", device.Label);
        json.Figure("startAddress", device.StartAddress);
        json.Time("addressAt", device.AddressAt);
        json.Figure("addressRecord", device.AddressRecord == 0 ? null : device.AddressRecord);
        json.Figure("footprint", device.Footprint);
        json.Figure("personality", device.Personality);
        json.Figure("personalityCount", device.PersonalityCount);
        json.Objects("personalities", device.Personalities, (writer, each) =>
        {
            writer.WriteNumber("number", each.Number);
            writer.WriteNumber("footprint", each.Footprint);
            writer.Text("name", each.Name);
        });
        json.Objects("slots", device.Slots, (writer, slot) =>
        {
            writer.WriteNumber("slot", slot.Number);
            writer.TextOrNull("kind", slot.Kind);
            writer.TextOrNull("name", slot.Name);
        });
        json.Objects("subDevices", device.SubDevices, (writer, part) =>
        {
            writer.WriteNumber("number", part.Number);
            writer.WriteNumber("startAddress", part.StartAddress);
            writer.Figure("footprint", part.Footprint);
        });
        if (device.IsIdentifying is bool shows)
        {
            json.WriteBoolean("identifying", shows);
        }
        else
        {
            json.WriteNull("identifying");
        }

        json.Objects("addressChanges", device.AddressChanges, (writer, change) =>
        {
            writer.Time("time", change.Time);
            writer.WriteNumber("from", change.From);
            writer.WriteNumber("to", change.To);
            writer.TextOrNull("setBy", change.SetBy?.ToString() ?? "");
        });
        json.WriteNumber("requests", device.Requests);
        json.WriteNumber("answers", device.Answers);
        json.WriteNumber("unanswered", device.Unanswered);
        json.WriteNumber("secondAnswers", device.SecondAnswers);
        json.WriteNumber("collisionsOfItsOwn", device.CollisionsOfItsOwn);
        json.Figure("slowestMs", device.Slowest?.TotalMilliseconds);
        json.WriteNumber("late", device.Late);
        json.Objects("refusals", device.Refusals, (writer, refusal) =>
        {
            writer.WriteNumber("parameter", refusal.Parameter);
            writer.WriteBoolean("set", refusal.IsSet);
            writer.WriteNumber("reason", refusal.Reason);
            writer.WriteNumber("count", refusal.Count);
        });
        json.WriteNumber("vanished", device.Vanished);
        json.WriteNumber("returned", device.Returned);
    }

    private static void Port(Utf8JsonWriter json, RdmPort port)
    {
        json.Universe(port.Universe);
        json.Span(port.First, port.Last);
        json.WriteNumber("firstRecord", port.FirstRecord);
        json.WriteNumber("requests", port.Requests);
        json.WriteNumber("answers", port.Answers);
        json.WriteNumber("broadcasts", port.Broadcasts);
        json.WriteNumber("discoveries", port.Discoveries);
        json.WriteNumber("discoveryReplies", port.DiscoveryReplies);
        json.WriteNumber("discoveryCollisions", port.DiscoveryCollisions);
        json.WriteNumber("damaged", port.Damaged);
        json.WriteNumber("tables", port.Tables);
        json.WriteNumber("tableChanges", port.TableChanges);
        json.WriteNumber("flushes", port.Flushes);
        if (port.Share is RdmShare share)
        {
            json.WriteStartObject("levels");
            json.WriteNumber("levelFrames", share.LevelFrames);
            json.WriteNumber("rdmFrames", share.RdmFrames);
            json.Figure("quietHz", share.QuietHz);
            json.Figure("polledHz", share.PolledHz);
            json.WriteNumber("longestGapMs", share.LongestGap.TotalMilliseconds);
            json.Time("gapFrom", share.GapFrom);
            json.WriteNumber("shortBeforeRdm", share.ShortBeforeRdm);
            json.WriteNumber("usualSlots", share.UsualSlots);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("levels");
        }
    }
}
