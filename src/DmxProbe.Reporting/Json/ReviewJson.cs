using System.Text.Json;

using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Json;

/// <summary>What was looked up in a recording, as JSON.</summary>
public static class ReviewJson
{
    /// <summary>Writes an answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="recording">The recording as the person named it.</param>
    /// <param name="streams">What is in it.</param>
    /// <param name="notes">What the folder says about its runs.</param>
    /// <param name="answer">Question and answer.</param>
    /// <param name="marks">Marks, where they were asked for.</param>
    /// <param name="cues">Cues, where they were asked for.</param>
    public static void Write(
        Stream output,
        string recording,
        IReadOnlyList<ReviewStream> streams,
        IReadOnlyList<string> notes,
        ReviewAnswer answer,
        IReadOnlyList<MarkSummary>? marks = null,
        IReadOnlyList<NightCue>? cues = null) =>
        JsonPage.Write(output, "review", json =>
        {
            json.Text("recording", recording);
            json.Span(answer.First, answer.Last);
            json.WriteNumber("reviewFilesMade", answer.ReviewFilesMade);
            json.Texts("notes", notes);
            json.Objects("streams", streams, (writer, stream) =>
            {
                Universe(writer, "universe", stream.Universe);
                Sender(writer, stream.Sender);
                writer.WriteNumber("frames", stream.Frames);
                writer.Time("first", stream.First);
                writer.Time("last", stream.Last);
            });
            json.Objects("marks", marks ?? [], (writer, mark) =>
            {
                writer.Time("time", mark.Time);
                writer.Text("text", mark.Text);
            });
            json.Objects("cues", cues ?? [], (writer, cue) =>
            {
                writer.WriteNumber("number", cue.Number);
                writer.Time("begins", cue.At);
                writer.Time("stands", cue.Settled);
                writer.WriteNumber("slots", cue.Slots);
            });
            if (answer.Universe is UniverseId universe)
            {
                Universe(json, "universe", universe);
            }
            else
            {
                json.WriteNull("universe");
            }

            json.Figure("slot", answer.Slot);
            json.Time("at", answer.At);
            json.Time("from", answer.From);
            json.Time("to", answer.To);
            json.Objects("levels", answer.Levels, (writer, levels) =>
            {
                Sender(writer, levels.Sender);
                writer.Time("time", levels.Time);
                writer.WriteNumber("priority", levels.Priority);
                writer.WriteBoolean("ended", levels.IsEnded);
                writer.Numbers("slots", levels.Slots.Select(level => (int)level));
            });
            json.Objects("history", answer.History, (writer, series) =>
            {
                writer.WriteNumber("slot", series.Slot);
                Sender(writer, series.Sender);
                writer.Objects("changes", series.Changes, (change, each) =>
                {
                    change.Time("time", each.Time);
                    change.Figure("level", each.Level < 0 ? null : each.Level);
                });
            });
        });

    private static void Universe(Utf8JsonWriter json, string name, UniverseId universe)
    {
        json.WriteStartObject(name);
        json.Universe(universe);
        json.WriteEndObject();
    }

    private static void Sender(Utf8JsonWriter json, SenderSummary sender)
    {
        json.Text("name", sender.Name);
        json.Text("address", sender.Address);
        json.TextOrNull("cid", sender.Cid);
    }
}
