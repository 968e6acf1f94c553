using System.Text.Json;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;

namespace DmxProbe.Reporting.Json;

/// <summary>What a unit should be doing and why, as JSON.</summary>
public static class ExplainJson
{
    /// <summary>Writes an explanation.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="explanation">The explanation.</param>
    /// <param name="fadersPerPage">Faders on a page of the controller; null when not asked.</param>
    public static void Write(Stream output, Explanation explanation, int? fadersPerPage) =>
        JsonPage.Write(output, "explain", json =>
        {
            json.Text("unit", explanation.Unit.Unit);
            json.Text("type", explanation.Unit.Type);
            json.Text("mode", explanation.Mode.Name);
            json.WriteNumber("sheetUniverse", explanation.Unit.Universe);
            json.WriteNumber("address", explanation.Unit.Address);
            if (explanation.Universe is UniverseId universe)
            {
                json.WriteStartObject("universe");
                json.Universe(universe);
                json.WriteEndObject();
            }
            else
            {
                json.WriteNull("universe");
            }

            json.Time("at", explanation.At);
            json.WriteString("state", explanation.State is UnitState state ? State(state) : "disputed");
            json.Text("sentence", ExplainNarrator.Sentence(explanation, moment => moment.ToString()));
            json.Objects("senders", explanation.Senders, (writer, view) => Sender(writer, view, fadersPerPage));
            Dictionary<int, int> places = [];
            for (int place = 0; place < explanation.Senders.Count; place++)
            {
                places[explanation.Senders[place].Sender.Index] = place;
            }

            json.Objects("winners", explanation.Winners, (writer, answer) =>
            {
                writer.WriteNumber("address", answer.Slot);
                writer.Answer(answer, places);
            });
            json.Objects("putOut", explanation.PutOut, (writer, put) =>
            {
                writer.WriteString("receiver", ArbitrationJson.Word(put.Condition));
                writer.WriteString("state", State(put.Of.State));
                writer.Numbers("values", put.Of.Slots.Select(slot => slot.Value));
            });
        });

    private static string State(UnitState state) => JsonNamingPolicy.CamelCase.ConvertName(state.ToString());

    private static void Sender(Utf8JsonWriter json, SenderView view, int? fadersPerPage)
    {
        json.Text("name", view.Sender.Name);
        json.Text("address", view.Sender.Address);
        json.TextOrNull("cid", view.Sender.Cid);
        json.WriteBoolean("inCharge", view.InCharge);
        json.Figure("priority", view.Priority < 0 ? null : view.Priority);
        json.Time("last", view.Last);
        json.WriteString("state", State(view.State));
        if (view.Light.Predictable)
        {
            json.WriteStartObject("light");
            json.Figure("red", view.Light.Red);
            json.Figure("green", view.Light.Green);
            json.Figure("blue", view.Light.Blue);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("light");
        }

        json.Objects("reasons", view.Reasons, (writer, reason) =>
        {
            writer.Text("text", reason.Text);
            writer.Figure("slot", reason.Slot == 0 ? null : reason.Slot);
            writer.Time("since", reason.Since);
        });
        json.Objects("slots", view.Slots, (writer, slot) =>
        {
            writer.WriteNumber("slot", slot.Slot);
            writer.WriteNumber("address", slot.Address);
            writer.Text("function", slot.Chart?.Function);
            writer.WriteString("role", JsonNamingPolicy.CamelCase.ConvertName((slot.Chart?.Role ?? Fixtures.Charts.SlotRole.Unknown).ToString()));
            writer.Figure("value", slot.Value < 0 ? null : slot.Value);
            writer.Text("meaning", slot.Range?.Meaning);
            writer.Figure("previous", slot.Previous < 0 ? null : slot.Previous);
            writer.Time("changed", slot.Changed);
            writer.Time("meaningSince", slot.MeaningSince);
            writer.WriteNumber("changes", slot.Changes);
            writer.Figure("page", fadersPerPage is int faders ? ((slot.Address - 1) / faders) + 1 : null);
            writer.Figure("fader", fadersPerPage is int each ? ((slot.Address - 1) % each) + 1 : null);
        });
    }
}
