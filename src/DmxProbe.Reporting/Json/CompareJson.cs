using System.Text.Json;

using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Json;

/// <summary>Two nights, or two taps of one moment, as JSON.</summary>
public static class CompareJson
{
    /// <summary>Writes an answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="inputs">The two inputs.</param>
    /// <param name="because">Why they were taken for nights, or for taps.</param>
    /// <param name="warnings">What makes one doubt that the right things were compared, a sentence each.</param>
    /// <param name="nights">Two nights; null: two taps.</param>
    /// <param name="links">Two taps.</param>
    /// <param name="most">Most differences, and most links, listed.</param>
    public static void Write(
        Stream output,
        IReadOnlyList<ComparedInput> inputs,
        string because,
        IReadOnlyList<string> warnings,
        NightComparison? nights,
        IReadOnlyList<LinkComparison> links,
        int most) =>
        JsonPage.Write(output, "compare", json =>
        {
            json.WriteString("as", nights is null ? "taps" : "nights");
            json.Text("because", because);
            json.Objects("inputs", inputs, (writer, input) =>
            {
                writer.Text("name", input.Name);
                writer.WriteNumber("records", input.Records);
                writer.Time("from", input.From);
                writer.Time("to", input.To);
            });
            json.Figure("cuesLastNight", nights?.CuesLastNight);
            json.Figure("cuesTonight", nights?.CuesTonight);
            json.Figure("cuesInBoth", nights?.CuesInBoth);
            json.Figure("looksCompared", nights?.LooksCompared);
            json.Figure("unitsThatRan", nights?.Running);
            json.Objects("differences", nights?.Differences.Take(most) ?? [], Difference);
            json.WriteNumber("differencesNotListed", Math.Max(0, (nights?.Differences.Count ?? 0) - (long)most));
            json.Texts("notes", [.. warnings, .. nights?.Notes ?? []]);
            json.Objects("links", links.Take(most), Link);
            json.WriteNumber("linksNotListed", Math.Max(0, links.Count - (long)most));
        });

    private static void Difference(Utf8JsonWriter json, NightDifference difference)
    {
        json.WriteString("kind", JsonNamingPolicy.CamelCase.ConvertName(difference.Kind.ToString()));
        json.Texts("subjects", difference.Subjects);
        json.Time("at", difference.At);
        json.Time("atLastNight", difference.AtLastNight);
        json.WriteNumber("cues", difference.Cues);
        json.Text("lastNight", difference.LastNight);
        json.Text("tonight", difference.Tonight);
        json.Text("action", difference.Action);
        json.Objects("slots", difference.Slots, (writer, slot) =>
        {
            writer.WriteString("universe", slot.Universe.Label);
            writer.WriteNumber("slot", slot.Slot);
            writer.WriteNumber("lastNight", slot.LastNight);
            writer.WriteNumber("tonight", slot.Tonight);
        });
    }

    private static void Link(Utf8JsonWriter json, LinkComparison link)
    {
        json.WriteString("far", link.Far.Label);
        json.TextOrNull("near", link.Near is UniverseId near ? near.Label : "");
        json.TextOrNull("sender", link.NearSender is SenderSummary sender ? sender.Name.Length > 0 ? sender.Name : sender.Address : "");
        json.WriteBoolean("oneClock", link.SameClock);
        json.Figure("offsetMs", link.Offset.TotalMilliseconds);
        json.Figure("leadMs", link.Lead.TotalMilliseconds);
        json.Figure("clockPpm", link.ClockPpm);
        json.Intervals("latencyMs", link.Latency);
        json.Figure("resolutionMs", link.Resolution.TotalMilliseconds);
        json.Figure("nearHz", link.NearHz);
        json.Figure("farHz", link.FarHz);
        json.WriteNumber("nearSlots", link.NearSlots);
        json.WriteNumber("farSlots", link.FarSlots);
        json.WriteNumber("changes", link.Changes);
        json.WriteNumber("changesPassed", link.ChangesPassed);
        json.WriteNumber("frames", link.Frames);
        json.Figure("missingFrames", link.MissingFrames);
        json.WriteBoolean("missingBySequence", link.IsMissingBySequence);
        json.WriteNumber("freezeCount", link.FreezeCount);
        json.Figure("leastFreezeMs", link.LeastFreeze.TotalMilliseconds);
        json.Figure("longestFreezeMs", link.LongestFreeze?.Length.TotalMilliseconds);
        json.Objects("freezes", link.Freezes, (writer, freeze) =>
        {
            writer.Time("from", freeze.From);
            writer.Time("to", freeze.To);
            writer.Figure("ms", freeze.Length.TotalMilliseconds);
            writer.WriteBoolean("silent", freeze.IsSilent);
        });
        json.Objects("detours", link.Detours, (writer, detour) =>
        {
            writer.Time("from", detour.From);
            writer.Time("to", detour.To);
            writer.WriteNumber("frames", detour.Frames);
            writer.TextOrNull("who", detour.Who);
        });
        json.WriteNumber("differingSlotCount", link.DifferingSlotCount);
        json.Counts("differingSlots", link.DifferingSlots.OrderBy(slot => slot.Value));
        json.WriteBoolean("whole", link.IsWhole);
        json.TextOrNull("action", link.Action);
    }
}
