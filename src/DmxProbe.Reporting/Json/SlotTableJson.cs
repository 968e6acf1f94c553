using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>Who decides several slots at several times, as JSON.</summary>
public static class SlotTableJson
{
    /// <summary>Writes the answers.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="answers">The answers, in the order they are to stand.</param>
    /// <param name="unanswered">Slots of universes that nobody had sent by a time.</param>
    /// <param name="senders">By index, whom they name.</param>
    /// <param name="why">The reason of a case in words.</param>
    public static void Write(
        Stream output,
        IReadOnlyList<SlotAnswer> answers,
        IReadOnlyList<(Timestamp At, UniverseId Universe, int FromSlot, int ToSlot)> unanswered,
        IReadOnlyDictionary<int, SenderSummary> senders,
        Func<SlotAnswer, string> why) => JsonPage.Write(output, "explain", json =>
        {
            KeyValuePair<int, SenderSummary>[] listed = [.. senders.OrderBy(pair => pair.Key)];
            Dictionary<int, int> places = listed.Select((pair, place) => (pair.Key, place)).ToDictionary(pair => pair.Key, pair => pair.place);
            json.Objects("senders", listed, (writer, pair) =>
            {
                writer.Text("name", pair.Value.Name);
                writer.Text("address", pair.Value.Address);
                writer.TextOrNull("cid", pair.Value.Cid);
            });
            json.Objects("answers", answers, (writer, answer) =>
            {
                writer.Time("at", answer.At);
                Universe(writer, answer.Universe);
                writer.WriteNumber("slot", answer.Slot);
                writer.Text("sentence", why(answer));
                writer.Answer(answer, places);
            });
            json.Objects("unanswered", unanswered, (writer, each) =>
            {
                writer.Time("at", each.At);
                Universe(writer, each.Universe);
                writer.WriteNumber("fromSlot", each.FromSlot);
                writer.WriteNumber("toSlot", each.ToSlot);
            });
        });

    private static void Universe(System.Text.Json.Utf8JsonWriter json, UniverseId universe)
    {
        json.WriteStartObject("universe");
        json.Universe(universe);
        json.WriteEndObject();
    }
}
