using System.Text.Json;

using DmxProbe.Analysis.Decoding.Line;

namespace DmxProbe.Reporting.Json;

/// <summary>A channel of a line recording as JSON.</summary>
internal static class LineJson
{
    /// <summary>Writes a channel into an object that is open.</summary>
    public static void Write(Utf8JsonWriter json, LineChannelSummary channel)
    {
        json.Text("channel", channel.Name);
        json.TextOrNull("description", channel.Description);
        json.WriteString("use", JsonWords.Of(channel.Use));
        json.Text("label", channel.Line?.Label);
        json.WriteString("polarity", JsonWords.Of(channel.Polarity));
        json.WriteBoolean("polarityTold", channel.IsPolarityTold);
        json.WriteBoolean("polarityDoubtful", channel.IsPolarityDoubtful);
        json.WriteString("doubt", JsonWords.Of(channel.Doubt));
        json.TextOrNull("doubtText", channel.Line is null ? "" : LineDoubts.Sentence(channel, channel.Name.Length > 0 ? $"{channel.Line.Value.Label} '{channel.Name}'" : channel.Line.Value.Label));
        json.WriteBoolean("withoutBreak", channel.IsWithoutBreak);
        json.TextOrNull("partner", channel.Partner);
        json.WriteNumber("resolutionNs", channel.Resolution.Nanoseconds);
        json.Figure("lengthMs", channel.Length.TotalMilliseconds);
        json.WriteNumber("edges", channel.Edges);
        json.WriteNumber("glitches", channel.Glitches);
        json.WriteNumber("packets", channel.Packets);
        json.WriteNumber("cutPackets", channel.CutPackets);
        json.WriteNumber("characters", channel.Characters);
        json.WriteNumber("framingErrors", channel.FramingErrors);
        json.WriteNumber("disturbedPackets", channel.DisturbedPackets);
        json.Objects("framingErrorSlots", channel.FramingErrorSlots, (writer, place) =>
        {
            writer.WriteNumber("slot", place.Slot);
            writer.WriteNumber("count", place.Count);
        });
        json.WriteNumber("edgesOffGrid", channel.EdgesOffGrid);
        json.WriteNumber("pulsesBeforeFirstBreak", channel.PulsesBeforeBreak);
        json.WriteNumber("strayCharacters", channel.StrayCharacters);
        json.WriteNumber("emptyBreaks", channel.EmptyBreaks);
        json.WriteNumber("discoveryReplies", channel.DiscoveryReplies);
        json.WriteNumber("discoveryCollisions", channel.DiscoveryCollisions);
        json.WriteNumber("damagedRdm", channel.DamagedRdm);
        json.WriteNumber("gaps", channel.Gaps);
    }
}
