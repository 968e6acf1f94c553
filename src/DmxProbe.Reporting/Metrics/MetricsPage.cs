using System.Globalization;
using System.Text;

using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Metrics;

/// <summary>
/// Rates, losses and findings in OpenMetrics text (version 1.0.0), for a monitoring system. Bounded: beyond
/// <see cref="MostSeries"/> series the rest is left out and counted. Names from packets are escaped and cut.
/// </summary>
public static class MetricsPage
{
    /// <summary>What the page is, for an HTTP header.</summary>
    public const string ContentType = "application/openmetrics-text; version=1.0.0; charset=utf-8";

    /// <summary>Most series of a page, over all metrics.</summary>
    public const int MostSeries = 10_000;

    private const int LongestLabel = 120;
    private const int MostFindings = 200;

    /// <summary>Writes a page.</summary>
    /// <param name="survey">What is known so far; null: nothing was heard yet.</param>
    /// <param name="mostSeries">Most series.</param>
    public static string Of(SurveySnapshot? survey, int mostSeries = MostSeries)
    {
        StringBuilder page = new();
        IEnumerable<(string Labels, StreamSummary Stream)> streams = (survey?.Universes ?? []).SelectMany(universe => universe.Streams.Select(stream => (Labels(
            ("universe", universe.Id.Label),
            ("sender", stream.Sender.Name),
            ("address", stream.Sender.Address),
            ("cid", stream.Sender.Cid),
            ("physical", stream.Sender.Physical < 0 ? "" : stream.Sender.Physical.ToString(CultureInfo.InvariantCulture))), stream)));

        // One universe has each sender once, and one page each series once.
        const int PerStream = 6;
        int room = Math.Max(0, mostSeries - MostFindings - 8);
        (string Labels, StreamSummary Stream)[] all = [.. streams.DistinctBy(each => each.Labels)];
        (string Labels, StreamSummary Stream)[] shown = [.. all.Take(room / PerStream)];
        Metric(page, "dmxprobe_frames", "counter", "", "Frames of a sender on a universe.", shown.Select(each => (each.Labels, (double?)each.Stream.Frames)));
        Metric(page, "dmxprobe_lost_packets", "counter", "", "Packets lost on the network, by sequence number.", shown.Select(each => (each.Labels, (double?)each.Stream.Sequence.Lost)));
        Metric(page, "dmxprobe_rate_hertz", "gauge", "hertz", "Level frames per second while the sender was present.", shown.Select(each => (each.Labels, each.Stream.RateHz)));
        Metric(page, "dmxprobe_running_rate_hertz", "gauge", "hertz", "Level frames per second while it was running.", shown.Select(each => (each.Labels, each.Stream.RunningHz)));
        Metric(page, "dmxprobe_last_frame_timestamp_seconds", "gauge", "seconds", "When its last frame came.", shown.Select(each => (each.Labels, (double?)(each.Stream.Last.UnixNanoseconds / 1e9))));
        Metric(page, "dmxprobe_sends", "gauge", "", "1 while it sends; 0 when it has ended its stream or gone silent.", shown.Select(each => (each.Labels, (double?)(each.Stream.Terminated || each.Stream.Silent ? 0 : 1))));
        Finding[] findings = [.. survey?.Findings ?? []];
        (string, double?)[] told =
        [
            .. findings.Select(finding => Labels(("severity", Word(finding.Severity)), ("id", finding.Id), ("subject", finding.Subject)))
                .GroupBy(labels => labels, StringComparer.Ordinal).Select(same => (same.Key, (double?)same.Count())).Take(MostFindings),
        ];
        Metric(page, "dmxprobe_findings", "gauge", "", "Findings of the survey, by cause and subject.", told);
        Metric(page, "dmxprobe_faults", "gauge", "", "Findings of severity fault.", [("", findings.Count(finding => finding.Severity == Severity.Fault))]);
        Metric(page, "dmxprobe_universes", "gauge", "", "Universes heard.", [("", survey?.Universes.Count ?? 0)]);
        Metric(page, "dmxprobe_lost_by_capture", "counter", "", "Records that the capture itself lost.", [("", survey?.Inputs.Sum(input => input.LostByCapture) ?? 0)]);
        Metric(page, "dmxprobe_senders_left_out", "gauge", "", "Senders on universes that are not on this page, because it is bounded.", [("", all.Length - shown.Length)]);
        page.Append("# EOF\n");
        return page.ToString();
    }

    private static string Word(Severity severity) => severity switch
    {
        Severity.Fault => "fault",
        Severity.Warning => "warning",
        _ => "info",
    };

    private static void Metric(StringBuilder page, string name, string type, string unit, string help, IEnumerable<(string Labels, double? Value)> samples)
    {
        page.Append("# TYPE ").Append(name).Append(' ').Append(type).Append('\n');
        if (unit.Length > 0)
        {
            page.Append("# UNIT ").Append(name).Append(' ').Append(unit).Append('\n');
        }

        page.Append("# HELP ").Append(name).Append(' ').Append(help).Append('\n');
        foreach ((string labels, double? value) in samples)
        {
            if (value is double number && double.IsFinite(number))
            {
                page.Append(name).Append(type == "counter" ? "_total" : "").Append(labels).Append(' ')
                    .Append(number.ToString("R", CultureInfo.InvariantCulture)).Append('\n');
            }
        }
    }

    private static string Labels(params (string Name, string Value)[] labels) =>
        "{" + string.Join(',', labels.Where(label => label.Value.Length > 0).Select(label => $"{label.Name}=\"{Escaped(label.Value)}\"")) + "}";

    // Backslash, quote and line feed as the format has it; what else could drive a terminal becomes U+FFFD.
    private static string Escaped(string value)
    {
        StringBuilder escaped = new();
        foreach (Rune rune in (value.Length > LongestLabel ? value[..LongestLabel] : value).EnumerateRunes())
        {
            escaped.Append(rune.Value switch
            {
                '\\' => "\\\\",
                '"' => "\\\"",
                '\n' => "\\n",
                _ => Rune.IsControl(rune) || Rune.GetUnicodeCategory(rune) == UnicodeCategory.Format ? "\uFFFD" : rune.ToString(),
            });
        }

        return escaped.ToString();
    }
}
