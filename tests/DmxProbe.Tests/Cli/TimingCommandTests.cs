using System.Text.Json;

using DmxProbe.Testing.Files;

namespace DmxProbe.Tests.Cli;

/// <summary>The timing command on line recordings.</summary>
public sealed class TimingCommandTests : IDisposable
{
    private const string StageLeft = "captures/harbour-hall/stage-left.vcd";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_answer_quotes_the_limit_that_was_crossed() => // the table has both: send max 1,000, accept max 2,500
        Assert.Contains(
            "is outside what a receiver must accept: 100.0 to 4,000 ms, limit max 2,500",
            ProgramRun.At(400, "timing", "captures/arbitration/who-wins.pcapng").Output.Split('\n')[0],
            StringComparison.Ordinal);

    [SkippableTheory]
    [InlineData(".vcd")]
    [InlineData(".sr")]
    public void A_disturbed_leg_is_told_first_and_nothing_is_judged_on_it(string format)
    {
        string? path = Places.SharedFile("captures", "line", "srcB_desk_0" + format);
        Skip.If(path is null, Places.NoShared);
        ProgramRun run = ProgramRun.At(400, "timing", path, "--channel", "DMX-");
        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.StartsWith("line A 'DMX-': disturbed: short pulses stand in 14 of 30 packets", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("outside", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("  inside", run.Output, StringComparison.Ordinal);
        Assert.Contains("short pulses stand in", ProgramRun.At(400, "survey", path, "--channel", "DMX-").Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_wrong_polarity_is_told_first_and_nothing_is_inside()
    {
        string? path = Places.SharedFile("captures", "line", "srcC_usb_0.vcd");
        Skip.If(path is null, Places.NoShared);
        ProgramRun run = ProgramRun.At(400, "timing", path, "--channel", "DMX+", "--polarity", "mark-low");
        Assert.Equal(1, run.Code);
        Assert.Contains("Is the polarity right?", run.Output.Split('\n')[0], StringComparison.Ordinal);
        Assert.DoesNotContain("  inside", run.Output, StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData("500k")]
    [InlineData("1100k")]
    [InlineData("2M")]
    public void A_wrong_rate_is_told_first_and_nothing_is_inside(string rate)
    {
        string? path = Places.SharedFile("captures", "line", "srcC_usb_0.sr");
        Skip.If(path is null, Places.NoShared);
        ProgramRun run = ProgramRun.At(400, "timing", Samples(path), "--rate", rate);
        Assert.Equal(1, run.Code);
        Assert.Contains("does not look like 250 kbit/s", run.Output.Split('\n')[0], StringComparison.Ordinal);
        Assert.DoesNotContain("  inside", run.Output, StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData("950k")]
    [InlineData("1050k")]
    public void A_rate_that_is_nearly_right_is_questioned_first(string rate)
    {
        string? path = Places.SharedFile("captures", "line", "srcC_usb_0.sr");
        Skip.If(path is null, Places.NoShared);
        Assert.Contains("does not look like 250 kbit/s", ProgramRun.At(400, "timing", Samples(path), "--rate", rate).Output.Split('\n')[0], StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_line_on_which_nothing_decodes_could_not_be_measured()
    {
        string? path = Places.SharedFile("captures", "line", "srcC_usb_0.sr");
        Skip.If(path is null, Places.NoShared);
        string samples = Samples(path);
        Assert.Contains("no DMX512 that can be measured", ProgramRun.Of("timing", samples, "--rate", "4M").Refusal(), StringComparison.Ordinal);
        Assert.Contains("'bit 3': never changes its level", ProgramRun.Of("timing", samples, "--rate", "1M", "--bit", "3").Refusal(), StringComparison.Ordinal);
        string text = File.ReadAllText(Places.SharedFile("captures", "line", "srcC_usb_0.vcd")!).Replace("$timescale 1 us $end", "", StringComparison.Ordinal);
        Assert.Contains("states no time unit", ProgramRun.Of("timing", Kept("unit.vcd", System.Text.Encoding.UTF8.GetBytes(text))).Refusal(), StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_session_zip_cut_anywhere_is_refused_or_told_as_cut_first()
    {
        string? path = Places.SharedFile("captures", "line", "srcA_usb_1mhz_all_85.sr");
        Skip.If(path is null, Places.NoShared);
        byte[] whole = File.ReadAllBytes(path);
        for (int length = 1; length < whole.Length; length += length > whole.Length - 40 ? 1 : 37)
        {
            ProgramRun run = ProgramRun.At(400, "timing", Kept("cut.sr", whole[..length]));
            Assert.True(
                run.Code == 2 ? run.Error.Length > 0 : run.Output.Split('\n')[0].Contains("ends early", StringComparison.Ordinal) || run.Output.Split('\n')[1].Contains("ends early", StringComparison.Ordinal),
                $"cut at {length}: {run.Code} {run.Error} {run.Output}");
            Assert.DoesNotContain("outside", run.Output, StringComparison.Ordinal);
        }
    }

    // The other leg of a line that stands at FFh looks like breaks of 55 us while the recording holds no break of its own.
    [SkippableFact]
    public void A_recording_cut_before_its_first_break_accuses_nobody()
    {
        string? path = Places.SharedFile("captures", "line", "srcA_usb_12mhz_all_255.vcd");
        Skip.If(path is null, Places.NoShared);
        byte[] whole = File.ReadAllBytes(path);
        for (int length = 500; length < whole.Length; length += 1_499)
        {
            ProgramRun run = ProgramRun.At(400, "timing", Kept("cut.vcd", whole[..length]));
            Assert.DoesNotContain("outside", run.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Times_that_run_backwards_are_told_first_with_their_place()
    {
        string text = File.ReadAllText(StageLeft);
        int middle = text.IndexOf("\n#", text.Length / 2, StringComparison.Ordinal) + 1;
        ProgramRun run = ProgramRun.At(400, "timing", Kept("back.vcd", System.Text.Encoding.UTF8.GetBytes(text[..middle] + "#5\n" + text[middle..])));
        Assert.Contains("ends early, so only its beginning was measured", run.Output.Split('\n')[0], StringComparison.Ordinal);
        Assert.Contains("expected a time not before the one before it, found #5", run.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void The_bench_says_how_many_verdicts_are_undecided()
    {
        string? path = Places.SharedFile("captures", "line", "srcB_desk_0.vcd");
        Skip.If(path is null, Places.NoShared);
        Assert.StartsWith("Bench: no figure is outside its limits; 3 of 9 verdicts are undecided.", ProgramRun.At(400, "timing", path, "--bench").Output, StringComparison.Ordinal);
    }

    // PROVENANCE.md of the shared recordings: rate, packets (complete), break, mark after break, slots, period; us.
    [SkippableTheory]
    [InlineData("srcA_usb_12mhz_all_255", 1, 98.25, 98.25, 21.417, 21.417, 0, 0, 0)]
    [InlineData("srcA_usb_1mhz_all_255", 1, 98, 98, 21, 21, 0, 0, 0)]
    [InlineData("srcA_usb_1mhz_all_85", 1, 98, 98, 21, 21, 0, 0, 0)]
    [InlineData("srcA_usb_500khz_all_85", 1, 98, 98, 22, 22, 0, 0, 0)]
    [InlineData("srcB_desk_0", 30, 185, 202, 11, 18, 512, 33_053, 33_652)]
    [InlineData("srcC_usb_0", 38, 179, 184, 20, 24, 512, 25_822, 25_824)]
    public void The_recordings_of_real_lines_measure_as_their_provenance_says_in_both_formats(
        string name, int packets, double breakLeast, double breakMost, double markLeast, double markMost, int slots, double periodLeast, double periodMost)
    {
        foreach (string format in new[] { ".vcd", ".sr" })
        {
            string? path = Places.SharedFile("captures", "line", name + format);
            Skip.If(path is null, Places.NoShared);
            ProgramRun run = ProgramRun.Of("timing", path, "--json");
            Assert.Equal((0, ""), (run.Code, run.Error));
            using JsonDocument page = JsonDocument.Parse(run.Output);
            JsonElement line = page.RootElement.GetProperty("lines")[0];
            Assert.Equal("decoded", line.GetProperty("use").GetString());
            Assert.Equal(packets, line.GetProperty("packets").GetInt32());
            Assert.Equal(1, line.GetProperty("cutPackets").GetInt32());
            Assert.Equal("otherLeg", page.RootElement.GetProperty("lines")[1].GetProperty("use").GetString());
            Range(page, "break", breakLeast, breakMost, packets);
            Range(page, "markAfterBreak", markLeast, markMost, packets);
            if (slots > 0)
            {
                Range(page, "slotCount", slots, slots, packets - 1);
                Range(page, "breakToBreak", periodLeast, periodMost, packets - 1);
            }
        }
    }

    [SkippableFact]
    public void A_mark_after_break_of_11_us_at_1_us_is_undecided_and_no_failure()
    {
        string? path = Places.SharedFile("captures", "line", "srcB_desk_0.sr");
        Skip.If(path is null, Places.NoShared);
        ProgramRun run = ProgramRun.Of("timing", path, "--json");
        Assert.Equal(0, run.Code);
        using JsonDocument page = JsonDocument.Parse(run.Output);
        JsonElement mark = Figure(page, "markAfterBreak");
        Assert.Equal("undecided", mark.GetProperty("verdict").GetString());
        Assert.Equal("transmit limit", mark.GetProperty("undecidedAgainst").GetString());
        Assert.Equal(0, mark.GetProperty("packets").GetProperty("outsideTransmit").GetInt32());
        Assert.StartsWith("No figure is outside", ProgramRun.Of("timing", path).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_stage_left_line_is_short_on_mark_after_break_by_so_much_in_so_many_packets()
    {
        ProgramRun run = ProgramRun.Of("timing", StageLeft, "--json");
        Assert.Equal(1, run.Code);
        using JsonDocument page = JsonDocument.Parse(run.Output);
        JsonElement mark = Figure(page, "markAfterBreak");

        // What the synthesiser was told to send (tests/DmxProbe.Testing/HarbourHall/HarbourLine.cs).
        var sent = Testing.HarbourHall.HarbourLine.Line(Testing.HarbourHall.HarbourHallFaults.All).Sent
            .Where(packet => packet.FirstStart < Testing.HarbourHall.HarbourLine.Ends)
            .Select(packet => Math.Round((packet.FirstStart - packet.BreakEnd) / 1e3, 1))
            .ToArray();
        Assert.Equal(sent.Count(each => each < 12), mark.GetProperty("packets").GetProperty("outsideTransmit").GetInt32());
        Assert.Equal(sent.Length, mark.GetProperty("count").GetInt32());
        Assert.Equal(sent.Min(), mark.GetProperty("min").GetDouble(), 6);
        Assert.Equal("outsideTransmit", mark.GetProperty("verdict").GetString());
        Assert.Equal((12.0, 8.0), (mark.GetProperty("transmit").GetProperty("min").GetDouble(), mark.GetProperty("receive").GetProperty("min").GetDouble()));
        Assert.Equal(sent.Length, mark.GetProperty("histogram").EnumerateArray().Sum(bar => bar.GetProperty("count").GetInt32()));
    }

    [Fact]
    public void A_clock_that_may_be_far_off_leaves_the_mark_undecided()
    {
        ProgramRun run = ProgramRun.Of("timing", StageLeft, "--json", "--clock-ppm", "100000");
        using JsonDocument page = JsonDocument.Parse(run.Output);
        Assert.Equal(100_000, page.RootElement.GetProperty("clockPpm").GetDouble());
        Assert.Equal("undecided", Figure(page, "markAfterBreak").GetProperty("verdict").GetString());
    }

    [Theory]
    [InlineData("no such channel; it has 'stage left data +'", StageLeft, "--channel", "D7")]
    [InlineData("no line recording", "captures/net/gen_artnet_loopback.pcap", "--channel", "D7")]
    [InlineData("a number from 0 to 100000", StageLeft, "--clock-ppm", "200000")]
    [InlineData("--against", StageLeft, "--against", "everybody")]
    [InlineData("--polarity", StageLeft, "--polarity", "up")]
    public void What_makes_no_sense_is_refused_in_one_sentence(string expected, params string[] args) =>
        Assert.Contains(expected, ProgramRun.Of(["timing", .. args]).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void The_wrong_polarity_asked_for_is_named_and_how_to_decode_it_anyway()
    {
        ProgramRun run = ProgramRun.Of("survey", StageLeft, "--polarity", "mark-low", "--json");
        using JsonDocument page = JsonDocument.Parse(run.Output);
        JsonElement finding = page.RootElement.GetProperty("findings").EnumerateArray().Single(each => each.GetProperty("id").GetString() == "reversed-pair");
        Assert.Contains("--polarity", finding.GetProperty("action").GetString(), StringComparison.Ordinal);
        Assert.Contains("254 - 4 x", finding.GetProperty("measured").GetString(), StringComparison.Ordinal);
    }

    private static void Range(JsonDocument page, string quantity, double least, double most, int count)
    {
        JsonElement figure = Figure(page, quantity);
        Assert.Equal(least, figure.GetProperty("min").GetDouble(), 0.01);
        Assert.Equal(most, figure.GetProperty("max").GetDouble(), 0.01);
        Assert.Equal(count, figure.GetProperty("count").GetInt32());
    }

    private static JsonElement Figure(JsonDocument page, string quantity) =>
        page.RootElement.GetProperty("timing").EnumerateArray().First(each => each.GetProperty("quantity").GetString() == quantity);

    private string Kept(string name, byte[] content)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllBytes(path, content);
        return path;
    }

    // The samples alone, which do not say their rate.
    private string Samples(string session)
    {
        using System.IO.Compression.ZipArchive archive = System.IO.Compression.ZipFile.OpenRead(session);
        using Stream samples = archive.GetEntry("logic-1-1")!.Open();
        using MemoryStream all = new();
        samples.CopyTo(all);
        return Kept("samples.raw", all.ToArray());
    }
}
