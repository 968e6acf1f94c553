using System.Text.Json;

using DmxProbe.Cli;
using DmxProbe.Cli.Help;

namespace DmxProbe.Tests.Cli;

public class CommandLineTests
{
    private const string Capture = "captures/net/gen_artnet_loopback.pcap";

    [Theory]
    [InlineData("there is no command 'survay'", "survay")]
    [InlineData("the nearest is 'survey'", "surve")]
    [InlineData("it knows demo, inputs", "xyzzyplugh")]
    [InlineData("needs one of its commands: check", "patch")]
    [InlineData("there is no command 'chek'", "patch", "chek")]
    [InlineData("survey needs INPUT: a capture file (pcap, pcapng), a folder", "survey")]
    [InlineData("has no option '--jsn'", "survey", "--jsn", Capture)]
    [InlineData("has no option '-x'", "survey", "-x")]
    [InlineData("takes no further word 'now'", "demo", "now")]
    [InlineData("--map", "patch", "check", "captures/harbour-hall/patch.csv", "--map", "1=artnet:0")]
    [InlineData("--map", "patch", "check", "captures/harbour-hall/patch.csv", "--capture", Capture, "--map", "1=dmx:0")]
    [InlineData("no such folder", "patch", "check", "captures/harbour-hall/patch.csv", "--charts", "nowhere")]
    public void What_cannot_be_understood_is_answered_with_one_sentence(string expected, params string[] args) =>
        Assert.Contains(expected, ProgramRun.Of(args).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Nothing_asked_shows_the_help_and_is_no_success()
    {
        ProgramRun run = ProgramRun.Of();
        Assert.Equal(2, run.Code);
        Assert.Contains("dmxprobe demo", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("demo", "--help")]
    [InlineData("survey", "--help")]
    [InlineData("timing", "-h")]
    [InlineData("patch", "check", "--help")]
    [InlineData("chart", "show", "--help")]
    [InlineData("survey", "nowhere.pcap", "--jsn", "--help")]
    public void Every_help_has_an_example_the_cautions_and_the_credit(params string[] args)
    {
        ProgramRun run = ProgramRun.At(1_000, args);
        Assert.Equal(0, run.Code);
        Assert.Contains("Example", run.Output, StringComparison.Ordinal);
        Assert.All(HelpPage.Cautions, caution => Assert.Contains(caution, run.Output, StringComparison.Ordinal));

        // Art-Net 4 document 1.4dn, page 21: the credit, word for word.
        Assert.Contains("Art-Net™ Designed by and Copyright Artistic Licence", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("survey")]
    [InlineData("timing")]
    [InlineData("record")]
    [InlineData("patch check")]
    [InlineData("chart show")]
    [InlineData("explain")]
    [InlineData("walk")]
    [InlineData("diagnose")]
    [InlineData("watch")]
    [InlineData("review")]
    [InlineData("compare")]
    [InlineData("export")]
    [InlineData("report")]
    [InlineData("inputs")]
    public void The_help_names_every_command_that_exists(string command) =>
        Assert.Contains("  " + command, ProgramRun.Of("--help").Output, StringComparison.Ordinal);

    [Fact]
    public void The_version_is_one_line() => Assert.Equal($"dmxprobe {DmxProbeProgram.Version}\n", ProgramRun.Of("--version").Output);

    [Theory]
    [InlineData("survey", Capture)]
    [InlineData("timing", Capture)]
    [InlineData("demo")]
    [InlineData("patch", "check", "captures/harbour-hall/patch.csv")]
    [InlineData("chart", "show", "captures/harbour-hall/charts/hazer.csv")]
    public void Json_is_json_of_schema_1_before_or_after_the_command(params string[] args)
    {
        foreach (ProgramRun run in new[] { ProgramRun.Of([.. args, "--json"]), ProgramRun.Of(["--json", .. args]) })
        {
            using JsonDocument page = JsonDocument.Parse(run.Output);
            Assert.Equal(1, page.RootElement.GetProperty("schema").GetInt32());
        }
    }

    [Fact]
    public void A_file_named_like_an_option_can_be_given_after_two_dashes() =>
        Assert.Contains("no such file", ProgramRun.Of("survey", "--", "--jsn").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_name_that_starts_with_an_at_sign_is_a_file_and_not_a_list_of_words() =>
        Assert.Contains("@tonight.pcap: there is no such file", ProgramRun.Of("survey", "@tonight.pcap").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Colour_shows_only_where_the_terminal_has_it_and_adds_no_word()
    {
        ProgramRun plain = ProgramRun.Of("demo", "--utc");
        ProgramRun colored = ProgramRun.With(120, color: true, TimeZoneInfo.Utc, default, "demo", "--utc");
        ProgramRun refused = ProgramRun.With(120, color: true, TimeZoneInfo.Utc, default, "demo", "--utc", "--no-color");
        Assert.DoesNotContain('\u001b', plain.Output);
        Assert.Contains('\u001b', colored.Output);
        Assert.Equal(plain.Output, refused.Output);
        Assert.Equal(plain.Output, System.Text.RegularExpressions.Regex.Replace(colored.Output, "\u001b\\[[0-9;]*m", ""));
    }

    [Fact]
    public void Times_are_local_unless_utc_is_asked_for()
    {
        TimeZoneInfo zone = TimeZoneInfo.CreateCustomTimeZone("hall", TimeSpan.FromMinutes(-210), "hall", "hall");
        ProgramRun local = ProgramRun.With(120, color: false, zone, default, "demo");
        ProgramRun utc = ProgramRun.With(120, color: false, zone, default, "demo", "--utc");
        Assert.Contains("2026-03-14 16:11:00 to 16:11:59 local time (UTC-03:30)", local.Output, StringComparison.Ordinal);
        Assert.Contains("2026-03-14 19:41:00 to 19:41:59 UTC", utc.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Stopped_by_the_person_it_ends_without_a_word()
    {
        ProgramRun run = ProgramRun.With(120, color: false, TimeZoneInfo.Utc, new CancellationToken(canceled: true), "survey", Capture);
        Assert.Equal((130, "", ""), (run.Code, run.Output, run.Error));
    }

    [Fact]
    public void A_reader_that_went_away_ends_it_without_a_word()
    {
        using StringWriter error = new();
        using GoneWriter gone = new();
        int code = DmxProbeProgram.Run(["survey", Capture], new ProgramHost(gone, error, 120, Color: false, TimeZoneInfo.Utc, default));
        Assert.Equal((2, ""), (code, error.ToString()));
    }

    private sealed class GoneWriter : StringWriter
    {
        public override void Write(string? value) => throw new IOException("broken pipe");
    }
}
