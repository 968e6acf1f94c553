using System.Text.Json;

using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Tests.Cli;

public sealed class PackCommandTests : IDisposable
{
    private const string Soundcheck = "captures/harbour-hall/soundcheck.pcapng";

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-pack-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_recording_packed_twice_is_there_once()
    {
        string archive = Path.Combine(_folder, "archive");
        string[] pack = ["record", "pack", Soundcheck, "-o", archive, "--show", "The Glass Orchard", "--venue", "Harbour Hall", "--patch", "captures/harbour-hall/patch.csv", "--map", "1=artnet:0,2=sacn:2,3=sacn:3", "--json"];
        ProgramRun first = ProgramRun.Of(pack);
        Assert.Equal("", first.Error);
        Assert.Equal(0, first.Code);
        string[] files = Files(archive);
        Assert.Contains(Path.Combine("levels", "show_key=the-glass-orchard", "date=2026-03-14", "hour=19", "universe=sacn-2", "soundcheck-pcapng-20260314t194100z.parquet"), files);
        Assert.Contains(Path.Combine("units", "show_key=the-glass-orchard", "date=2026-03-14", "soundcheck-pcapng-20260314t194100z.parquet"), files);
        Assert.Equal(first.Output, ProgramRun.Of(pack).Output);
        Assert.Equal(files, Files(archive));
        JsonElement page = JsonDocument.Parse(first.Output).RootElement;
        Assert.Equal(page.GetProperty("frames").GetInt64() * 512, page.GetProperty("levels").GetInt64());
        Assert.Equal(files.Length, page.GetProperty("files").GetInt32());
    }

    [Fact]
    public void A_line_recording_has_no_date_and_that_is_said()
    {
        string archive = Path.Combine(_folder, "archive");
        ProgramRun run = ProgramRun.At(400, "record", "pack", "captures/harbour-hall/stage-left.vcd", "-o", archive, "--show", "x");
        Assert.Equal(0, run.Code);
        Assert.Contains("It has no date: it stands under date=undated", run.Output, StringComparison.Ordinal);
        Assert.Contains(Path.Combine("levels", "show_key=x", "date=undated", "hour=00", "universe=line-a", "stage-left-vcd-undated.parquet"), Files(archive));
        Assert.DoesNotContain(Files(archive), file => file.Contains("1970", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("../../../etc")]
    [InlineData("/root")]
    [InlineData("C:\\Windows")]
    [InlineData("..")]
    [InlineData("show=x/date=y")]
    public void A_name_of_a_show_never_leads_out_of_the_archive(string name)
    {
        string archive = Path.Combine(_folder, "archive");
        Assert.Equal(0, ProgramRun.Of("record", "pack", Soundcheck, "-o", archive, "--show", name, "--venue", name).Code);
        Assert.Equal([archive], Directory.GetFileSystemEntries(_folder));
        Assert.Single(Directory.GetDirectories(Path.Combine(archive, "levels")));
    }

    [Theory]
    [InlineData("--show", " ", "nothing but spaces")]
    [InlineData("--show", "a\u001b[2J", "control characters")]
    [InlineData("--map", "1=artnet:0", "--patch")]
    public void What_does_not_serve_is_refused(string option, string value, string sentence)
    {
        string[] show = option == "--show" ? [] : ["--show", "x"];
        Assert.Contains(sentence, ProgramRun.Of(["record", "pack", Soundcheck, "-o", Path.Combine(_folder, "archive"), .. show, option, value]).Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_packed_leaves_nothing_behind()
    {
        string archive = Path.Combine(_folder, "archive");
        File.WriteAllText(Path.Combine(_folder, "text"), "no capture");
        Assert.Contains("text", ProgramRun.Of("record", "pack", Path.Combine(_folder, "text"), "-o", archive, "--show", "x").Refusal(), StringComparison.Ordinal);
        Assert.Contains("no such file", ProgramRun.Of("record", "pack", Path.Combine(_folder, "gone"), "-o", archive, "--show", "x").Refusal(), StringComparison.Ordinal);
        Assert.Contains("is a file", ProgramRun.Of("record", "pack", Soundcheck, "-o", Path.Combine(_folder, "text"), "--show", "x").Refusal(), StringComparison.Ordinal);
        Assert.Contains("record it first", ProgramRun.Of("record", "pack", "net", "-o", archive, "--show", "x").Refusal(), StringComparison.Ordinal);
        Assert.False(Directory.Exists(archive));
    }

    [Fact]
    public void A_cut_recording_packs_what_is_whole_and_says_so()
    {
        string cut = Path.Combine(_folder, "cut.pcapng");
        byte[] whole = File.ReadAllBytes(Soundcheck);
        File.WriteAllBytes(cut, whole[..(whole.Length / 2)]);
        ProgramRun run = ProgramRun.Of("record", "pack", cut, "-o", Path.Combine(_folder, "archive"), "--show", "x", "--json");
        Assert.Equal(1, run.Code);
        JsonElement page = JsonDocument.Parse(run.Output).RootElement;
        Assert.False(page.GetProperty("whole").GetBoolean());
        Assert.InRange(page.GetProperty("frames").GetInt64(), 100, long.MaxValue);
        Assert.Contains("ends early; what is whole was packed: ", page.GetProperty("notes")[0].GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain(Files(Path.Combine(_folder, "archive")), file => file.EndsWith(".unfinished", StringComparison.Ordinal));
    }

    [Fact]
    public void A_folder_with_a_damaged_segment_packs_the_others_and_names_it()
    {
        string folder = Path.Combine(_folder, "tonight");
        Assert.Equal(0, ProgramRun.Of("record", Soundcheck, "-o", folder, "--segment", "20s").Code);
        string[] segments = [.. Directory.GetFiles(folder, "*.pcapng").Order(StringComparer.Ordinal)];
        byte[] second = File.ReadAllBytes(segments[1]);
        second.AsSpan(second.Length / 2, 64).Fill(0xEE);
        File.WriteAllBytes(segments[1], second);
        ProgramRun run = ProgramRun.Of("record", "pack", folder, "-o", Path.Combine(_folder, "archive"), "--show", "x");
        Assert.Equal(1, run.Code);
        Assert.Contains(Path.GetFileName(segments[1]), run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        JsonElement survey = JsonDocument.Parse(ProgramRun.Of("survey", segments[2], "--json").Output).RootElement;
        Assert.NotEmpty(survey.GetProperty("universes").EnumerateArray()); // the third is whole, and its time is in the archive:
        JsonElement page = JsonDocument.Parse(ProgramRun.Of("record", "pack", folder, "-o", Path.Combine(_folder, "archive"), "--show", "x", "--json").Output).RootElement;
        long third = survey.GetProperty("universes").EnumerateArray().Sum(universe => universe.GetProperty("frames").GetInt64());
        Assert.True(page.GetProperty("frames").GetInt64() > third, $"{page.GetProperty("frames")} of which {third} in the third");
    }

    [Fact]
    public void Ctrl_C_leaves_no_file_and_no_folder()
    {
        string recording = Path.Combine(_folder, "tonight");
        RecordedShow.Record(new CuedShow(new ShowPlan { Universes = 30, Seconds = 60, ConstantRate = true, Effects = 0.3 }), recording, Duration.FromSeconds(600));
        string archive = Path.Combine(_folder, "archive");
        using CancellationTokenSource pressed = new();
        bool wasWriting = false;
        Thread person = new(() =>
        {
            while (!pressed.IsCancellationRequested)
            {
                wasWriting = Directory.Exists(archive) && Directory.EnumerateFiles(archive, "*.unfinished", SearchOption.AllDirectories).Any();
                if (wasWriting)
                {
                    pressed.Cancel();
                }
            }
        });
        person.Start();
        ProgramRun run = ProgramRun.With(120, color: false, TimeZoneInfo.Utc, pressed.Token, "record", "pack", recording, "-o", archive, "--show", "x");
        pressed.Cancel();
        person.Join();
        Assert.True(wasWriting);
        Assert.Equal(130, run.Code);
        Assert.Equal("dmxprobe: stopped; nothing was written.\n", run.Error);
        Assert.Equal("", run.Output);
        Assert.False(Directory.Exists(archive));
    }

    [Theory]
    [InlineData("CON")]
    [InlineData("..\\x")]
    [InlineData("a=b;c*?")]
    [InlineData("夜のショー")]
    [InlineData("new\nline")]
    public void Whatever_a_recording_is_called_its_files_have_plain_names(string name)
    {
        string recording = Path.Combine(_folder, name);
        File.Copy(Soundcheck, recording);
        string archive = Path.Combine(_folder, "archive");
        Assert.Equal(0, ProgramRun.Of("record", "pack", recording, "-o", archive, "--show", "x").Code);
        Assert.All(Files(archive), file => Assert.Matches("^[a-z]+/show_key=x/date=2026-03-14/(hour=19/universe=[a-z0-9-]+/)?[a-z0-9][a-z0-9-]*-20260314t194100z\\.parquet$", file.Replace('\\', '/')));
    }

    private static string[] Files(string archive) =>
        [.. Directory.EnumerateFiles(archive, "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(archive, file)).Order(StringComparer.Ordinal)];
}
