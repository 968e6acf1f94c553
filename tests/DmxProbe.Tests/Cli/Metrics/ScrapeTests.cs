using System.ComponentModel;
using System.Diagnostics;
using System.Net;
using System.Text.Json;

using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Metrics;
using DmxProbe.Reporting.Metrics;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Tests.Cli.Metrics;

/// <summary>
/// A scrape over HTTP, parsed by a general parser of OpenMetrics: that of the package python3-prometheus-client of Debian, which
/// refuses what is not in the format (no EOF, a counter without _total, a unit that is not in the name, a series twice).
/// </summary>
public class ScrapeTests
{
    private const string Script = """
        import json, sys, urllib.request
        from prometheus_client.openmetrics.parser import text_string_to_metric_families as parse
        answer = urllib.request.urlopen(sys.argv[1], timeout=30)
        families = list(parse(answer.read().decode("utf-8")))
        print(json.dumps({"type": answer.headers["Content-Type"], "families": [[f.name, f.type, f.unit] for f in families],
                          "samples": [[s.name, s.labels, s.value] for f in families for s in f.samples]}))
        """;

    [SkippableFact]
    public void A_scrape_is_read_by_a_general_parser_of_OpenMetrics()
    {
        SurveySnapshot survey = FullSurvey.With();
        JsonElement scrape = Scrape(MetricsPage.Of(survey));
        Assert.Equal(MetricsPage.ContentType, scrape.GetProperty("type").GetString());
        Assert.Equal(11, scrape.GetProperty("families").GetArrayLength());
        StreamSummary first = survey.Universes[0].Streams[0];
        Assert.Contains(scrape.GetProperty("samples").EnumerateArray(), sample =>
            sample[0].GetString() == "dmxprobe_frames_total"
            && sample[1].GetProperty("universe").GetString() == survey.Universes[0].Id.Label
            && sample[2].GetDouble() == first.Frames);
    }

    [SkippableFact]
    public void Names_from_packets_come_out_of_the_parser_as_they_were_but_for_control_characters()
    {
        JsonElement scrape = Scrape(MetricsPage.Of(Hostile("a\"b\\c\nd\u0007{x=\"1\"} 2\n# EOF\n\u202e夜")));
        string[] names = [.. scrape.GetProperty("samples").EnumerateArray().Where(sample => sample[0].GetString() == "dmxprobe_sends").Select(sample => sample[1].GetProperty("sender").GetString()!)];
        Assert.Equal(["a\"b\\c\nd\uFFFD{x=\"1\"} 2\n# EOF\n\uFFFD夜"], names);
    }

    [SkippableFact]
    public void Nothing_heard_yet_is_a_page_too() => Assert.NotEmpty(Scrape(MetricsPage.Of(null)).GetProperty("samples").EnumerateArray());

    private static SurveySnapshot Hostile(string name) => Surveyor.Run(
        new SimulatedNetwork(3)
            .Add(new SacnSource(name, Host.At("x", "10.0.1.1"), new byte[16]) { Streams = [new SacnStream { Universe = 1, SlotCount = 8, Levels = Levels.Constant(1) }] })
            .Run(1_500_000_000).ToSource(),
        CancellationToken.None);

    private static JsonElement Scrape(string page)
    {
        using MetricsServer server = new(new IPEndPoint(IPAddress.Loopback, 0), () => page, TimeSpan.FromSeconds(30));
        foreach (string python in new[] { "python3", "/usr/bin/python3" }) // a package of the system is not seen by a Python of one's own
        {
            ProcessStartInfo start = new(python) { RedirectStandardOutput = true, RedirectStandardError = true, ArgumentList = { "-c", Script, $"http://{server.Address}/metrics" } };
            try
            {
                using Process process = Process.Start(start)!;
                string answer = process.StandardOutput.ReadToEnd();
                string error = process.StandardError.ReadToEnd();
                process.WaitForExit();
                if (!error.Contains("ModuleNotFoundError", StringComparison.Ordinal))
                {
                    Assert.True(process.ExitCode == 0, error);
                    return JsonDocument.Parse(answer).RootElement;
                }
            }
            catch (Win32Exception)
            {
                // No such Python.
            }
        }

        Skip.If(true, "needs Python with prometheus_client (Debian: python3-prometheus-client; .ci/run installs it)");
        return default;
    }
}
