using System.Globalization;
using System.Text.Json;

using Microsoft.VisualBasic.FileIO;

namespace DmxProbe.Tests.Cli;

/// <summary><c>export</c> over Harbour Hall and over rubbish.</summary>
public sealed class ExportCommandTests : IDisposable
{
    private const string Soundcheck = "captures/harbour-hall/soundcheck.pcapng";
    private const string Sheet = "captures/harbour-hall/patch.csv";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_changes_played_in_order_give_the_levels_that_explain_reads()
    {
        string file = Export("changes", "changes.csv", "--patch", Sheet);
        Dictionary<(string Sender, string Slot), string> levels = [];
        List<string[]> rows = Csv(file);
        foreach (string[] row in rows.Skip(1).Where(row => row[3] == "artnet" && row[4] == "0"))
        {
            levels[(row[5], row[8])] = row[10];
        }

        using JsonDocument explained = JsonDocument.Parse(ProgramRun.Of("explain", Soundcheck, "--patch", Sheet, "--unit", "LX1-6", "--json").Output);
        JsonElement[] slots = [.. explained.RootElement.GetProperty("senders")[0].GetProperty("slots").EnumerateArray()];
        Assert.NotEmpty(slots);
        string sender = Assert.Single(levels.Keys.Select(key => key.Sender).Distinct());
        foreach (JsonElement slot in slots)
        {
            int place = slot.GetProperty("address").GetInt32();
            Assert.Equal(
                slot.GetProperty("value").GetInt32().ToString(CultureInfo.InvariantCulture),
                levels[(sender, place.ToString(CultureInfo.InvariantCulture))]);
        }
    }

    [Fact]
    public void Changes_name_the_unit_and_its_function()
    {
        List<string[]> rows = Csv(Export("changes", "changes.csv", "--patch", Sheet));
        Assert.Contains(rows, row => row[3] == "artnet" && row[8] == "61" && row[11] == "LX1-6" && row[12].Length > 0);
        Assert.DoesNotContain(rows.Skip(1), row => row[11].Length == 0 && row[12].Length > 0);
    }

    [Fact]
    public void Frames_are_as_many_as_the_survey_counts()
    {
        using JsonDocument survey = JsonDocument.Parse(ProgramRun.Of("survey", Soundcheck, "--json").Output);
        long counted = survey.RootElement.GetProperty("universes").EnumerateArray().Sum(universe => universe.GetProperty("frames").GetInt64());
        Assert.Equal(counted, Csv(Export("frames", "frames.csv")).Count - 1);
    }

    [Fact]
    public void Everything_is_one_page_with_survey_timing_frames_and_changes()
    {
        using JsonDocument page = JsonDocument.Parse(File.ReadAllText(Export("everything", "all.json")));
        Assert.Equal(3, page.RootElement.GetProperty("survey").GetProperty("universes").GetArrayLength());
        Assert.NotEqual(0, page.RootElement.GetProperty("timing").GetProperty("timing").GetArrayLength());
        Assert.Equal(Csv(Export("frames", "frames.csv")).Count - 1, page.RootElement.GetProperty("frames").GetArrayLength());
        Assert.Equal(Csv(Export("changes", "changes.csv")).Count - 1, page.RootElement.GetProperty("changes").GetArrayLength());
    }

    [Fact]
    public void A_line_gives_frames_and_measurements()
    {
        const string Line = "captures/harbour-hall/stage-left.vcd";
        Assert.All(Csv(Export("frames", "line.csv", Line)).Skip(1), row => Assert.Equal("line", row[3]));
        Assert.Contains(Csv(Export("measurements", "figures.csv", Line)), row => row[4] == "markAfterBreak" && row[22] == "outsideTransmit");
    }

    [Fact]
    public void The_sheet_as_found_reads_back_as_a_sheet()
    {
        string file = Export("sheet", "found.csv", "--patch", Sheet);
        Assert.Equal(26, Csv(file).Count - 1);
        ProgramRun check = ProgramRun.Of("patch", "check", file, "--charts", "captures/harbour-hall/charts");
        Assert.Equal("", check.Error);
    }

    [Fact]
    public void An_existing_file_is_never_written_over()
    {
        string file = Path.Combine(_folder, "mine.csv");
        File.WriteAllText(file, "mine");
        Assert.Contains("nothing is written over", ProgramRun.Of("export", Soundcheck, "--what", "frames", "-o", file).Refusal(), StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(file));
    }

    [Theory]
    [InlineData("frames", "x.txt", "the ending says no form")]
    [InlineData("everything", "x.csv", "which only JSON holds")]
    [InlineData("sheet", "x.csv", "add --patch")]
    [InlineData("nothing", "x.csv", "--what")]
    [InlineData("frames", "no/such/folder/x.csv", "there is no folder")]
    public void What_cannot_be_written_is_refused_in_one_sentence(string what, string file, string part) =>
        Assert.Contains(part, ProgramRun.Of("export", Soundcheck, "--what", what, "-o", Path.Combine(_folder, file)).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_live_input_cannot_be_read_twice() => Assert.Contains(
        "record it first",
        ProgramRun.Of("export", "net", "--for", "1s", "--what", "everything", "-o", Path.Combine(_folder, "x.json")).Refusal(),
        StringComparison.Ordinal);

    [Fact]
    public void An_input_that_cannot_be_read_leaves_no_file()
    {
        string file = Path.Combine(_folder, "x.csv");
        _ = ProgramRun.Of("export", "captures/no-such.pcapng", "--what", "frames", "-o", file).Refusal();
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void Ctrl_C_leaves_no_half_file()
    {
        using CancellationTokenSource stop = new();
        stop.Cancel();
        ProgramRun run = ProgramRun.With(120, color: false, TimeZoneInfo.Utc, stop.Token, "export", Soundcheck, "--what", "frames", "-o", Path.Combine(_folder, "x.csv"));
        Assert.Equal(130, run.Code);
        Assert.Equal("dmxprobe: stopped; nothing was written.\n", run.Error);
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_capture_cut_off_is_exported_and_said_to_be_cut()
    {
        string cut = Path.Combine(_folder, "cut.pcapng");
        File.WriteAllBytes(cut, File.ReadAllBytes(Soundcheck)[..50_001]);
        ProgramRun run = ProgramRun.Of("export", cut, "--what", "frames", "-o", Path.Combine(_folder, "x.csv"));
        Assert.Equal(1, run.Code);
        Assert.Contains("ended early", run.Output, StringComparison.Ordinal);
    }

    private string Export(string what, string name, params string[] more)
    {
        string file = Path.Combine(_folder, name);
        string input = more is [string first] ? first : Soundcheck;
        ProgramRun run = ProgramRun.Of(["export", input, "--what", what, "-o", file, .. more.Length > 1 ? more : []]);
        Assert.Equal("", run.Error);
        Assert.Equal(0, run.Code);
        return file;
    }

    private static List<string[]> Csv(string file)
    {
        using TextFieldParser parser = new(file) { TextFieldType = FieldType.Delimited, HasFieldsEnclosedInQuotes = true, TrimWhiteSpace = false };
        parser.SetDelimiters(",");
        List<string[]> rows = [];
        while (parser.ReadFields() is string[] row)
        {
            rows.Add(row);
        }

        return rows;
    }
}
