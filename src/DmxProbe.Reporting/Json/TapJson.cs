using System.Text.Json;

using DmxProbe.Analysis.Compare;

namespace DmxProbe.Reporting.Json;

/// <summary>Two taps compared, as JSON.</summary>
internal static class TapJson
{
    /// <summary>Writes <c>gateways</c> and <c>segments</c> into an object that is open.</summary>
    public static void Write(Utf8JsonWriter json, IReadOnlyList<TapPair> pairs)
    {
        json.Objects(
            "gateways",
            pairs.SelectMany(pair => pair.Comparison.Gateways.Select(found => (Pair: pair, Found: found))),
            (writer, row) => Gateway(writer, row.Pair, row.Found));
        json.Objects(
            "segments",
            pairs.SelectMany(pair => pair.Comparison.Segments.Select(found => (Pair: pair, Found: found))),
            (writer, row) => Segment(writer, row.Pair, row.Found));
    }

    private static void Gateway(Utf8JsonWriter json, TapPair pair, GatewayComparison found)
    {
        json.WriteNumber("network", pair.Near);
        json.WriteNumber("input", pair.Far);
        json.Text("line", found.Line.Label);
        json.TextOrNull("universe", found.Universe?.Label ?? "");
        json.TextOrNull("runnerUp", found.RunnerUp?.Label ?? "");
        json.Figure("runnerUpShare", found.RunnerUpShare);
        json.WriteNumber("senders", found.Senders);
        json.WriteBoolean("oneClock", found.SameClock);
        json.Figure("offsetMs", found.Offset.TotalMilliseconds);
        json.Figure("clockPpm", found.ClockPpm);
        json.Intervals("latencyMs", found.Latency);
        json.Figure("resolutionMs", found.Resolution.TotalMilliseconds);
        json.WriteNumber("changes", found.Changes);
        json.WriteNumber("changesPassed", found.ChangesPassed);
        json.Figure("networkHz", found.NetworkHz);
        json.Figure("lineHz", found.LineHz);
        json.Texts("mergeRules", found.BestRules.Select(Word));
        json.Objects("fits", found.Fits, (writer, fit) =>
        {
            writer.WriteString("rule", Word(fit.Rule));
            writer.WriteNumber("frames", fit.Frames);
            writer.WriteNumber("mismatched", fit.Mismatched);
            writer.WriteNumber("mismatchedSlots", fit.MismatchedSlots);
            writer.WriteNumber("changes", fit.Changes);
            writer.WriteNumber("passed", fit.Passed);
        });
        json.Objects("losses", found.Losses, (writer, loss) =>
        {
            writer.Time("at", loss.At);
            writer.WriteString("outcome", JsonNamingPolicy.CamelCase.ConvertName(loss.Outcome.ToString()));
            writer.Figure("afterMs", loss.After.TotalMilliseconds);
        });
        json.WriteBoolean("whole", found.IsWhole);
    }

    private static void Segment(Utf8JsonWriter json, TapPair pair, SegmentComparison found)
    {
        json.WriteNumber("startInput", pair.Near);
        json.WriteNumber("endInput", pair.Far);
        json.Text("start", found.Start.Label);
        json.Text("end", found.End.Label);
        json.WriteBoolean("aligned", found.IsAligned);
        json.WriteNumber("packets", found.Packets);
        json.WriteNumber("missing", found.Missing);
        json.WriteNumber("damagedAtEnd", found.DamagedAtEnd);
        json.WriteNumber("damagedAtStart", found.DamagedAtStart);
        json.WriteNumber("different", found.Different);
        json.Counts("differingSlots", found.DifferingSlots.OrderBy(each => each.Value));
    }

    private static string Word(MergeRule rule) => JsonNamingPolicy.CamelCase.ConvertName(rule.ToString());
}
