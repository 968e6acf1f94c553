using System.Text.Json;

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

    private static string[] Files(string archive) =>
        [.. Directory.EnumerateFiles(archive, "*", SearchOption.AllDirectories).Select(file => Path.GetRelativePath(archive, file)).Order(StringComparer.Ordinal)];
}
