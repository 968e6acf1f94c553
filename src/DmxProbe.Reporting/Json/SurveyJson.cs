using System.Text.Json;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>The survey as JSON. docs/json.md documents each field; a test holds the two together.</summary>
public static class SurveyJson
{
    /// <summary>Writes the survey.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="survey">What was found.</param>
    public static void Write(Stream output, SurveySnapshot survey) =>
        JsonPage.Write(output, "survey", json => Body(json, survey));

    /// <summary>Writes the fields of a survey into an object that is open.</summary>
    internal static void Body(Utf8JsonWriter json, SurveySnapshot survey)
    {
        json.Time("from", survey.First);
        json.Time("to", survey.Last);
        json.Objects("inputs", survey.Inputs, Input);
        json.Objects("universes", survey.Universes, Universe);
        json.Objects("lines", survey.Lines, LineJson.Write);
        json.Objects("nodes", survey.Nodes, Node);
        json.Objects("discovery", survey.Discovery, Discovery);
        NetworkJson.Write(json, survey);
        json.Rdm(survey.Rdm);
        json.WriteNumber("artPolls", survey.ArtPolls);
        json.WriteNumber("artSyncs", survey.ArtSyncs);
        json.Counts("otherOpCodes", survey.OtherOpCodes);
        json.Counts("syncPackets", survey.SyncPackets);
        json.WriteNumber("markCount", survey.Marks.Count + survey.MarksNotListed);
        json.Objects("marks", survey.Marks, Mark);
        json.WriteNumber("framesOfUniversesNotListed", survey.FramesOfUniversesNotListed);
        json.WriteNumber("framesOfSendersNotListed", survey.FramesOfSendersNotListed);
        json.Findings(survey.Findings);
    }

    private static void Input(Utf8JsonWriter json, InputSummary input)
    {
        json.Text("name", input.Name);
        json.WriteNumber("records", input.Records);
        json.Span(input.First, input.Last);
        json.WriteNumber("malformed", input.Malformed);
        json.Text("cut", input.Cut?.ToString());
        json.WriteNumber("cutBySnapLength", input.CutBySnapLength);
        json.WriteNumber("fragments", input.Fragments);
        json.WriteNumber("lostByCapture", input.LostByCapture);
        json.WriteNumber("otherTraffic", input.OtherTraffic);
        json.Objects("interfaces", input.Interfaces, Interface);
        json.Texts("assumptions", input.Assumptions);
        json.Texts("notes", input.Notes);
    }

    private static void Mark(Utf8JsonWriter json, MarkSummary mark)
    {
        json.Time("time", mark.Time);
        json.Text("text", mark.Text);
        json.WriteNumber("record", mark.Record);
    }

    private static void Interface(Utf8JsonWriter json, CaptureInterface face)
    {
        json.WriteNumber("id", face.Id);
        json.Text("name", face.Name);
        json.Text("description", face.Description);
        json.WriteNumber("linkType", (int)face.LinkType);
        json.WriteNumber("snapLength", face.SnapLength);
        json.WriteNumber("resolutionNs", face.Resolution.Nanoseconds);
        json.WriteString("stampedBy", JsonWords.Of(face.StampedBy));
    }

    private static void Universe(Utf8JsonWriter json, UniverseSummary universe)
    {
        json.Universe(universe.Id);
        json.WriteNumber("frames", universe.Frames);
        json.Counts("slotCounts", universe.SlotCounts);
        json.Objects("senders", universe.Streams, StreamJson.Write);

        // Inside the program a sender is an index of the whole survey; a reader of this page has only senders[] here.
        Dictionary<int, int> places = [];
        for (int place = 0; place < universe.Streams.Count; place++)
        {
            places[universe.Streams[place].Sender.Index] = place;
        }

        json.Objects("obeyed", universe.Obeyed, (writer, span) => Obeyed(writer, span, places));
        json.WriteNumber("obeyedNotListed", universe.ObeyedNotListed);
        json.Ranges(universe.Arbitration?.Winners ?? [], places);
        json.Changes(universe.Arbitration?.Changes ?? [], places);
        json.WriteNumber("winnerChangesNotListed", universe.Arbitration?.ChangesNotListed ?? 0);
        ArbitrationJson.Sync(json, universe.Arbitration?.Sync ?? SyncState.None, universe.Arbitration?.SyncAddress ?? 0, universe.Arbitration?.LastSync);
        json.WriteString("mergeMode", ArbitrationJson.Word(universe.Arbitration?.Mode ?? MergeMode.NotKnown));
    }

    private static void Obeyed(Utf8JsonWriter json, ObeyedSpan span, Dictionary<int, int> places)
    {
        json.Time("from", span.From);
        json.Time("to", span.To);
        json.Numbers("senders", span.Senders.Where(places.ContainsKey).Select(index => places[index]));
        json.Numbers("ignored", span.Ignored.Where(places.ContainsKey).Select(index => places[index]));
        json.WriteBoolean("mergeCancelled", span.IsMergeCancelled);
        if (span.Priority < 0)
        {
            json.WriteNull("priority");
        }
        else
        {
            json.WriteNumber("priority", span.Priority);
        }
    }

    private static void Node(Utf8JsonWriter json, NodeSummary node)
    {
        json.Text("address", node.Address);
        json.Text("portName", node.PortName);
        json.Text("longName", node.LongName);
        json.WriteNumber("replies", node.Replies);
        json.WriteNumber("shortestReply", node.ShortestReply);
        json.WriteNumber("statedPort", node.StatedPort);
        json.Numbers("outputs", node.Outputs);
        json.Numbers("inputs", node.InputsListed);
        json.WriteBoolean("merging", node.Merging);
    }

    private static void Discovery(Utf8JsonWriter json, DiscoverySummary discovery)
    {
        json.Text("name", discovery.Sender.Name);
        json.Text("address", discovery.Sender.Address);
        json.TextOrNull("cid", discovery.Sender.Cid);
        json.Numbers("universes", discovery.Universes);
        json.WriteBoolean("complete", discovery.Complete);
        json.WriteNumber("packets", discovery.Packets);
    }
}
