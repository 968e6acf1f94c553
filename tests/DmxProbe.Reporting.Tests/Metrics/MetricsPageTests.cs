using System.Text.RegularExpressions;

using DmxProbe.Analysis.Survey;
using DmxProbe.Reporting.Metrics;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Reporting.Tests.Metrics;

/// <summary>Against the grammar of OpenMetrics 1.0.0 (its "ABNF" section); a general parser reads it in ScrapeTests.</summary>
public partial class MetricsPageTests
{
    [Fact]
    public void Every_line_is_one_of_the_grammar_and_the_last_is_EOF()
    {
        foreach (SurveySnapshot? survey in new[] { null, FullSurvey.With(), Hostile() })
        {
            string page = MetricsPage.Of(survey);
            Assert.EndsWith("\n# EOF\n", page, StringComparison.Ordinal);
            HashSet<string> series = [];
            Dictionary<string, string> types = [];
            foreach (string line in page.Split('\n')[..^2])
            {
                if (TypeLine().Match(line) is { Success: true } type)
                {
                    Assert.True(types.TryAdd(type.Groups[1].Value, type.Groups[2].Value), line); // a family stands together, once
                }
                else if (!line.StartsWith("# UNIT ", StringComparison.Ordinal) && !line.StartsWith("# HELP ", StringComparison.Ordinal))
                {
                    Match sample = SampleLine().Match(line);
                    Assert.True(sample.Success, line);
                    string name = sample.Groups[1].Value;
                    string family = name.EndsWith("_total", StringComparison.Ordinal) ? name[..^6] : name;
                    Assert.Equal(name == family ? "gauge" : "counter", types[family]);
                    Assert.True(series.Add(name + sample.Groups[2].Value), "twice: " + line);
                }
            }
        }
    }

    [Fact]
    public void A_page_has_no_more_series_than_it_may()
    {
        SurveySnapshot survey = Hostile();
        string page = MetricsPage.Of(survey, mostSeries: 300);
        Assert.True(page.Split('\n').Count(line => line.Length > 0 && line[0] != '#') <= 300);
        Assert.DoesNotContain("dmxprobe_senders_left_out 0\n", page, StringComparison.Ordinal);
        Assert.Contains("dmxprobe_senders_left_out 0\n", MetricsPage.Of(survey), StringComparison.Ordinal);
    }

    [Fact]
    public void Names_from_packets_are_escaped()
    {
        string page = MetricsPage.Of(Hostile());
        Assert.Contains("sender=\"a\\\"b\\\\c\\nd", page, StringComparison.Ordinal);
        Assert.DoesNotContain(page, character => char.IsControl(character) && character != '\n');
    }

    // Eighty senders with names that would break a page.
    private static SurveySnapshot Hostile()
    {
        SimulatedNetwork network = new(3);
        for (int sender = 0; sender < 80; sender++)
        {
            byte[] cid = new byte[16];
            cid[0] = (byte)(sender + 1);
            network.Add(new SacnSource("a\"b\\c\nd\u0007\u0085" + (sender % 3), Host.At("x", $"10.0.1.{sender + 1}"), cid)
            {
                Streams = [new SacnStream { Universe = 1 + (sender % 7), SlotCount = 8, Levels = Levels.Constant(1) }],
            });
        }

        return Surveyor.Run(new SimulatedSource(network.Run(1_500_000_000)), CancellationToken.None);
    }

    [GeneratedRegex("^# TYPE ([a-zA-Z_:][a-zA-Z0-9_:]*) (counter|gauge)$")]
    private static partial Regex TypeLine();

    [GeneratedRegex("""^([a-zA-Z_:][a-zA-Z0-9_:]*)(\{[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*"(?:,[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*")*\})? -?[0-9]+(?:\.[0-9]+)?(?:E[+-]?[0-9]+)?$""")]
    private static partial Regex SampleLine();
}
