using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>Who decides one slot at a time, as JSON.</summary>
public static class SlotJson
{
    /// <summary>Writes the answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="universe">The universe asked about.</param>
    /// <param name="slot">The slot, 1 to 512.</param>
    /// <param name="at">The time asked.</param>
    /// <param name="answer">The answer; null where nobody sent the universe.</param>
    /// <param name="senders">By index, whom it names.</param>
    /// <param name="sentence">The answer in words.</param>
    public static void Write(
        Stream output,
        UniverseId universe,
        int slot,
        Timestamp at,
        SlotAnswer? answer,
        IReadOnlyDictionary<int, SenderSummary> senders,
        string sentence) => JsonPage.Write(output, "explain", json =>
        {
            json.WriteStartObject("universe");
            json.Universe(universe);
            json.WriteEndObject();
            json.WriteNumber("slot", slot);
            json.Time("at", at);
            json.Text("sentence", sentence);
            Dictionary<int, int> places = [];
            List<(SenderSummary Sender, Contender? Stands)> listed = [];
            foreach (Contender each in answer?.Contenders ?? [])
            {
                places[each.Sender] = listed.Count;
                listed.Add((senders[each.Sender], each));
            }

            foreach ((int index, SenderSummary sender) in senders.Where(pair => !places.ContainsKey(pair.Key)).OrderBy(pair => pair.Key))
            {
                places[index] = listed.Count;
                listed.Add((sender, null));
            }

            json.Objects("senders", listed, (writer, each) =>
            {
                writer.Text("name", each.Sender.Name);
                writer.Text("address", each.Sender.Address);
                writer.TextOrNull("cid", each.Sender.Cid);
                writer.Figure("value", each.Stands is { Value: >= 0 } sends ? sends.Value : null);
                writer.Figure("packetPriority", each.Stands is { PacketPriority: >= 0 } packet ? packet.PacketPriority : null);
                writer.Figure("addressPriority", each.Stands is { AddressPriority: >= 0 } address ? address.AddressPriority : null);
                writer.WriteBoolean("present", each.Stands is not null);
                writer.WriteBoolean("leftOut", each.Stands?.LeftOut ?? false);
                writer.Time("last", each.Stands?.Last);
            });
            if (answer is not null)
            {
                json.Answer(answer, places);
            }
            else
            {
                json.WriteStartArray("cases");
                json.WriteEndArray();
                ArbitrationJson.Sync(json, SyncState.None, 0, null);
                json.WriteString("mergeMode", ArbitrationJson.Word(MergeMode.NotKnown));
            }
        });
}
