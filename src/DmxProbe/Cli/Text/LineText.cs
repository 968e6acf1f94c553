using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>The channels of line recordings as text: what each was taken for, and everything that was assumed.</summary>
internal static class LineText
{
    /// <summary>Writes those of a survey; nothing without one.</summary>
    public static void Write(TextPage page, SurveySnapshot survey) =>
        Write(page, survey.Lines, survey.Inputs.SelectMany(input => input.Assumptions));

    /// <summary>Writes those of timed inputs; nothing without one.</summary>
    public static void Write(TextPage page, IReadOnlyList<TimedInput> inputs) =>
        Write(page, [.. inputs.SelectMany(input => input.Lines)], inputs.SelectMany(input => input.Assumptions));

    /// <summary>One channel in a sentence or two.</summary>
    public static string Sentence(LineChannelSummary channel)
    {
        string name = channel.Name.Length > 0 ? $"'{channel.Name}'" : "the channel without a name";
        string sampled = $"sampled every {Figures.Time(channel.Resolution)} for {Figures.Time(channel.Length)}";
        return channel.Use switch
        {
            LineChannelUse.Silent => $"{name}: never changes its level, {sampled}: nothing connected, or nothing sent.",
            LineChannelUse.NotDmx when channel.IsWithoutBreak => $"{name}: {Figures.Count(channel.Edges, "edge")}, {sampled}, characters of 250 kbit/s and no break: the recording ends before a packet begins, or no break is sent.",
            LineChannelUse.NotDmx => $"{name}: {Figures.Count(channel.Edges, "edge")}, {sampled}, and no DMX512 that can be read.",
            LineChannelUse.NotAsked => $"{name}: left out.",
            LineChannelUse.OtherLeg => $"{name}: the other leg of '{channel.Partner}', {Polarity(channel)}; not decoded twice.",
            _ => $"{name}: {channel.Line?.Label}, {Polarity(channel)}{Partner(channel)}; {sampled}. {Packets(channel)}",
        };
    }

    private static void Write(TextPage page, IReadOnlyList<LineChannelSummary> channels, IEnumerable<string> assumptions)
    {
        List<string> assumed = [.. assumptions.Distinct()];
        if (channels.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Channels of the recording, and what was taken for granted");
        foreach (LineChannelSummary channel in channels)
        {
            page.Paragraph(Sentence(channel), indent: 2);
        }

        foreach (string sentence in assumed)
        {
            page.Paragraph(sentence, indent: 2);
        }
    }

    private static string Polarity(LineChannelSummary channel) =>
        (channel.Polarity == LinePolarity.MarkHigh ? "high is mark" : "low is mark") + (channel.IsPolarityTold ? " (as told)" : " (found)");

    private static string Partner(LineChannelSummary channel) => channel.Partner.Length == 0 ? ""
        : channel.Use == LineChannelUse.Copy ? $", the same signal as '{channel.Partner}'"
        : $", a pair with '{channel.Partner}'";

    private static string Packets(LineChannelSummary channel)
    {
        List<string> parts = [Figures.Count(channel.Packets, "packet") + (channel.CutPackets > 0 ? $" ({Figures.Count(channel.CutPackets)} cut by the recording)" : "")];
        if (channel.PulsesBeforeBreak > 0)
        {
            parts.Add("begins inside a packet, which is not counted");
        }

        parts.Add(channel.FramingErrors > 0
            ? $"{Figures.Count(channel.FramingErrors, "framing error")} in {Figures.Count(channel.Characters, "character")}"
            : $"no framing error in {Figures.Count(channel.Characters, "character")}");
        Add(parts, channel.Gaps, "gap");
        Add(parts, channel.Glitches, "pulse", " too short for a bit");
        Add(parts, channel.EmptyBreaks, "break", " without a START code");
        Add(parts, channel.DiscoveryReplies, "discovery reply", "", "discovery replies");
        Add(parts, channel.DiscoveryCollisions, "collision", " in discovery");
        return string.Join("; ", parts) + ".";
    }

    private static void Add(List<string> parts, long count, string one, string after = "", string? many = null)
    {
        if (count > 0)
        {
            parts.Add(Figures.Count(count, one, many) + after);
        }
    }
}
