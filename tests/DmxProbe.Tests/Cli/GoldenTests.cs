namespace DmxProbe.Tests.Cli;

/// <summary>The real program on real files, word for word, at two widths.</summary>
public class GoldenTests
{
    private const string Hall = "captures/harbour-hall/";
    private const string Net = "captures/net/";

    [Theory]
    [InlineData("survey-two-sources", 0, "survey", Net + "gen_sacn_two_sources_terminate.pcap")]
    [InlineData("survey-artnet-poll", 0, "survey", Net + "gen_artnet_dmxnet_poll.pcap")]
    [InlineData("survey-artnet-partial", 0, "survey", Net + "gen_artnet_artnetlib_partial.pcap")]
    [InlineData("survey-artnet-tags", 0, "survey", Net + "gen_artnet_vlan20_qinq.pcap")]
    [InlineData("survey-artnet-cooked", 0, "survey", Net + "gen_artnet_any_sll2.pcap")]
    [InlineData("survey-artnet-loopback", 0, "survey", Net + "gen_artnet_loopback.pcap")]
    [InlineData("survey-two-inputs", 0, "survey", Net + "gen_artnet_artnetlib_partial.pcap", Net + "gen_artnet_loopback.pcap")]
    [InlineData("survey-harbour-hall", 1, "survey", Hall + "soundcheck.pcapng")]
    [InlineData("timing-two-sources", 0, "timing", Net + "gen_sacn_two_sources_terminate.pcap")]
    [InlineData("timing-side-by-side", 0, "timing", Net + "gen_artnet_dmxnet_poll.pcap", Net + "gen_artnet_artnetlib_partial.pcap")]
    [InlineData("timing-stage-left", 1, "timing", Hall + "stage-left.vcd")]
    [InlineData("timing-stage-left-receiver", 0, "timing", Hall + "stage-left.vcd", "--against", "receiver", "--polarity", "mark-high")]
    [InlineData("timing-stage-left-bench", 1, "timing", Hall + "stage-left.vcd", "--bench")]
    [InlineData("survey-stage-left", 1, "survey", Hall + "stage-left.vcd")]
    [InlineData("patch-check-harbour-hall", 0, "patch", "check", Hall + "patch.csv", "--capture", Hall + "soundcheck.pcapng")]
    [InlineData("chart-show-led-wash", 0, "chart", "show", Hall + "charts/led-wash.csv")]
    [InlineData("locate-harbour-hall", 1, "locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--trace", Hall + "lx1-6-trace.csv")]
    [InlineData("explain-dark", 0, "explain", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--at", "19:41:40")]
    [InlineData("explain-disputed", 1, "explain", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX2-1", "--at", "30", "--faders-per-page", "12")]
    [InlineData("walk-harbour-hall", 0, "walk", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv")]
    [InlineData("review-harbour-hall", 0, "review", Hall + "soundcheck.pcapng")]
    [InlineData("review-moment", 0, "review", Hall + "soundcheck.pcapng", "--universe", "sacn:2", "--at", "19:41:30")]
    [InlineData("review-slot", 0, "review", Hall + "soundcheck.pcapng", "--universe", "sacn:3", "--slot", "1", "--at", "30")]
    [InlineData("review-history", 0, "review", Hall + "soundcheck.pcapng", "--universe", "artnet:0", "--slot", "61")]
    [InlineData("help-review", 0, "review", "--help")]
    [InlineData("help-record-pack", 0, "record", "pack", "--help")]
    [InlineData("help-compare", 0, "compare", "--help")]
    [InlineData("compare-harbour-hall", 1, "compare", Hall + "soundcheck.pcapng", Hall + "stage-left.vcd")]
    [InlineData("diagnose-lx1-6", 1, "diagnose", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--bad", "LX1-6", "--trace", Hall + "lx1-6-trace.csv")]
    [InlineData("diagnose-flicker", 1, "diagnose", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--bad", "LX2-1,LX2-2,LX3-1", "--said", "they flicker")]
    [InlineData("diagnose-chain", 1, "diagnose", Hall + "soundcheck.pcapng", Hall + "stage-left.vcd", "--patch", Hall + "patch.csv", "--bad", "LX1-1,LX1-2,LX1-3,LX1-4,LX1-5,LX1-6")]
    [InlineData("help-diagnose", 0, "diagnose", "--help")]
    [InlineData("help-walk", 0, "walk", "--help")]
    [InlineData("survey-who-wins", 1, "survey", "captures/arbitration/who-wins.pcapng")]
    [InlineData("explain-slot", 0, "explain", "captures/arbitration/who-wins.pcapng", "--slot", "sacn:2.1", "--at", "2.05")]
    [InlineData("explain-slot-frozen", 1, "explain", "captures/arbitration/who-wins.pcapng", "--slot", "sacn:3.1", "--at", "3.65")]
    [InlineData("explain-slots", 1, "explain", "captures/arbitration/who-wins.pcapng", "--slot", "sacn:2.1-4,artnet:1.2", "--at", "1.5,2.05,7.45,7.55,9.05,12.6,18.2")]
    [InlineData("survey-rdm", 1, "survey", "captures/rdm/stage-left.pcapng")]
    [InlineData("patch-check-rdm", 1, "patch", "check", Hall + "patch.csv", "--capture", "captures/rdm/stage-left.pcapng")]
    [InlineData("locate-rdm", 1, "locate", Hall + "soundcheck.pcapng", "captures/rdm/stage-left.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--trace", Hall + "lx1-6-trace.csv")]
    [InlineData("help-explain", 0, "explain", "--help")]
    [InlineData("help-locate", 0, "locate", "--help")]
    [InlineData("help-trace-from-video", 0, "trace", "from-video", "--help")]
    [InlineData("help", 0, "--help")]
    [InlineData("help-survey", 0, "survey", "--help")]
    [InlineData("help-timing", 0, "timing", "--help")]
    [InlineData("help-watch", 0, "watch", "--help")]
    [InlineData("help-record", 0, "record", "--help")]
    [InlineData("help-record-mark", 0, "record", "mark", "--help")]
    [InlineData("help-demo", 0, "demo", "--help")]
    [InlineData("help-patch-check", 0, "patch", "check", "--help")]
    [InlineData("help-chart-show", 0, "chart", "show", "--help")]
    [InlineData("help-export", 0, "export", "--help")]
    [InlineData("help-report", 0, "report", "--help")]
    [InlineData("demo", 0, "demo")]
    public void The_program_prints_what_is_expected(string name, int code, params string[] args)
    {
        foreach (int width in new[] { 80, 120 })
        {
            ProgramRun run = ProgramRun.At(width, [.. args, "--utc"]);
            Assert.Equal("", run.Error);
            Assert.Equal(code, run.Code);
            Golden.Matches($"{name}-{width}", run.Output);
        }
    }

    [Fact]
    public void Watch_plain_prints_a_line_an_event()
    {
        ProgramRun run = ProgramRun.Of("watch", Hall + "soundcheck.pcapng", "--plain", "--utc");
        Assert.Equal(1, run.Code);
        Golden.Matches("watch-plain-harbour-hall", run.Output);
    }

    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    public void No_line_is_wider_than_the_terminal(int width)
    {
        foreach (string name in Directory.EnumerateFiles("tests/DmxProbe.Tests/Golden", $"*-{width}.txt"))
        {
            foreach (string line in File.ReadLines(name))
            {
                Assert.True(line.Length <= width, $"{name}: {line.Length} columns: {line}");
                Assert.Equal(line.TrimEnd(), line);
            }
        }
    }
}
