using System.Globalization;
using System.Text;
using System.Text.Json;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Tests.Cli;

/// <summary><c>locate</c> on the built-in soundcheck, and what it says of inputs that do not serve.</summary>
public sealed class LocateCommandTests : IDisposable
{
    private const string Hall = "captures/harbour-hall/";
    private const string Capture = Hall + "soundcheck.pcapng";
    private const string Sheet = Hall + "patch.csv";
    private const string Trace = Hall + "lx1-6-trace.csv";
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-locate-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void Notes_without_a_line_for_the_unit_are_refused()
    {
        const string Hall = "captures/harbour-hall/";
        string[] asked = ["locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-1", "--notes"];
        Assert.Contains("the notes hold no line for LX1-1 (they are for LX1-6);", ProgramRun.Of([.. asked, Hall + "lx1-6-notes.csv"]).Refusal(), StringComparison.Ordinal);
        string bare = Path.GetTempFileName();
        try
        {
            File.WriteAllText(bare, "time,unit,look\n");
            Assert.Contains("the notes hold no line for LX1-1 (there is no line below the headings);", ProgramRun.Of([.. asked, bare]).Refusal(), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(bare);
        }
    }

    [Fact]
    public void The_answer_names_address_sheet_error_runner_up_fix_and_a_confirming_look()
    {
        ProgramRun run = Locate("LX1-6", Trace);
        Assert.Equal("", run.Error);
        Assert.Equal(1, run.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("Set LX1-6 to 061", run.Output, StringComparison.Ordinal);
        Assert.Contains("1.061 is free on the", run.Output, StringComparison.Ordinal);
        Assert.Contains("runner-up: ", run.Output, StringComparison.Ordinal);
        Assert.Contains("LX1-6 lights up", run.Output, StringComparison.Ordinal);
    }

    // A line recording begins at time 0 (1970), and the trace counts its seconds from the capture's first record.
    [Fact]
    public void A_line_recording_beside_the_capture_changes_nothing()
    {
        string[] asked = ["--patch", Sheet, "--unit", "LX1-6", "--trace", Trace];
        ProgramRun alone = ProgramRun.Of(["locate", Capture, .. asked]);
        Assert.Equal(1, alone.Code);
        Assert.Equal(alone, ProgramRun.Of(["locate", Capture, Hall + "stage-left.vcd", .. asked]));
        Assert.Equal(alone, ProgramRun.Of(["locate", Hall + "stage-left.vcd", Capture, .. asked]));
    }

    // By themselves line recordings are all there is: they are read, and the refusal speaks of the trace, not of the input.
    [Fact]
    public void A_line_recording_alone_is_still_read() => Assert.Contains(
        "share too little time", ProgramRun.Of("locate", Hall + "stage-left.vcd", "--patch", Sheet, "--unit", "LX1-6", "--trace", Trace, "--map", "1=line:A").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Json_has_the_fields_of_the_design()
    {
        ProgramRun run = ProgramRun.Of("locate", Capture, "--patch", Sheet, "--unit", "lx1-6", "--trace", Trace, "--json");
        Assert.Equal(1, run.Code);
        JsonElement page = JsonDocument.Parse(run.Output).RootElement;
        Assert.Equal("found", page.GetProperty("claim").GetString());
        JsonElement best = page.GetProperty("best");
        Assert.Equal("artnet", best.GetProperty("protocol").GetString());
        Assert.Equal(0, best.GetProperty("number").GetInt32());
        Assert.Equal(1, best.GetProperty("sheetUniverse").GetInt32());
        Assert.Equal(16, best.GetProperty("address").GetInt32());
        Assert.Equal("10 slot", best.GetProperty("mode").GetString());
        Assert.InRange(best.GetProperty("score").GetDouble(), 0.9, 0.995);
        Assert.Equal("digits swapped", page.GetProperty("explanation").GetString());
    }

    [Fact]
    public void A_trace_of_a_few_seconds_in_the_dark_is_not_enough_evidence()
    {
        // Noise alone around one value, twenty seconds of it.
        StringBuilder text = new("time,level\n");
        Random random = new(5);
        for (int i = 0; i < 600; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{5 + (i / 30.0):0.0000},{0.2 + (0.002 * random.NextDouble()):0.00000}\n");
        }

        ProgramRun run = Locate("LX1-6", Written("dark.csv", text.ToString()));
        Assert.Equal(3, run.Code);
        Assert.StartsWith("Not enough evidence yet to say what LX1-6 reads: ", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("LX1-66", "the sheet has no unit 'LX1-66'; did you mean 'LX1-6'")]
    [InlineData("nothing like it", "the sheet has no unit 'nothing like it'")]
    public void A_unit_that_is_not_on_the_sheet_is_refused_with_the_nearest_names(string unit, string sentence) =>
        Assert.StartsWith(sentence, Locate(unit, Trace).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("time,level\n100,1\n101,2\n110,1\n120,3\n", "overlap")]
    [InlineData("time,level\n2026-03-10T19:41:00Z,1\n2026-03-10T19:41:20Z,2\n", "another day")]
    [InlineData("time,level\n1,NaN\n2,1\n", "line 2")]
    [InlineData("time,level\n2,1\n1,2\n", "line 3")]
    [InlineData("time,brightness\n1,1\n", "column")]
    [InlineData("", "the file is empty")]
    public void A_trace_that_does_not_serve_is_refused_with_one_sentence(string text, string part)
    {
        string path = Written("trace.csv", text);
        string refusal = Locate("LX1-6", path).Refusal();
        Assert.StartsWith(path + ": ", refusal, StringComparison.Ordinal);
        Assert.Contains(part, refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_from_after_the_last_levels_is_refused_though_the_capture_goes_on()
    {
        // Two seconds of sACN 1, then nothing for a minute but one ARP request.
        CaptureBytes file = new CaptureBytes().PcapHeader();
        byte[] cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");
        UdpPath path = UdpPath.ToSacnGroup(Host.At("a", "192.0.2.10"), 1);
        for (int i = 0; i < 80; i++)
        {
            byte[] packet = SacnPackets.Data(cid, "Source_A", 1, i, [(byte)i, 2, 3]);
            file.PcapRecord(1_773_517_260 + (uint)(i / 40), 25_000 * (uint)(i % 40), UdpFrames.Build(path, packet));
        }

        file.PcapRecord(1_773_517_320, 0, [.. Enumerable.Repeat((byte)0xFF, 12), 0x08, 0x06, .. new byte[28]]);
        string capture = Path.Combine(_folder.FullName, "early.pcap");
        File.WriteAllBytes(capture, file.ToArray());

        string refusal = ProgramRun.Of("locate", capture, "--patch", Sheet, "--unit", "LX1-6", "--trace", Trace).Refusal();

        Assert.Contains(
            "the trace and the captured levels share too little time: expected at least 5 s, found 1.", refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_with_one_constant_value_is_refused()
    {
        StringBuilder text = new("time,level\n");
        for (int i = 0; i < 900; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{5 + (i / 30.0):0.0000},0.5\n");
        }

        Assert.Contains("never changes", Locate("LX1-6", Written("flat.csv", text.ToString())).Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_with_wrong_columns_and_a_chart_with_a_gap_are_refused_with_one_sentence()
    {
        string sheet = Written("sheet.csv", "unit,mode,address\nA,x,1\n");
        Assert.Contains("column", ProgramRun.Of("locate", Capture, "--patch", sheet, "--unit", "A", "--trace", Trace).Refusal(), StringComparison.Ordinal);
        Directory.CreateDirectory(Path.Combine(_folder.FullName, "charts"));
        Written("charts/x.csv", "mode,slot,function,from,to,meaning\nm,1,Dimmer,0,99,low\nm,1,Dimmer,120,255,high\n");
        string good = Written("good.csv", "unit,type,mode,universe,address\nA,x,m,1,1\n");
        string refusal = ProgramRun.Of("locate", Capture, "--patch", good, "--unit", "A", "--trace", Trace).Refusal();
        Assert.Contains("100", refusal, StringComparison.Ordinal);
        Assert.Contains("119", refusal, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1=artnet:99999", "an Art-Net Port-Address from 0 to 32767")]
    [InlineData("1=dali:3", "sacn, artnet, line or serial")]
    public void A_map_that_is_none_is_refused(string map, string sentence) => Assert.Contains(
        sentence,
        ProgramRun.Of("locate", Capture, "--patch", Sheet, "--unit", "LX1-6", "--trace", Trace, "--map", map).Refusal(),
        StringComparison.Ordinal);

    private static ProgramRun Locate(string unit, string trace) =>
        ProgramRun.Of("locate", Capture, "--patch", Sheet, "--unit", unit, "--trace", trace);

    private string Written(string name, string text)
    {
        string path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }
}
