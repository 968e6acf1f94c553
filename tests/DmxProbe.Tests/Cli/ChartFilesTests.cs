using System.IO.Compression;
using System.Text;
using System.Text.Json;

using DmxProbe.Testing.Files;

namespace DmxProbe.Tests.Cli;

/// <summary>Charts and sheets in the formats of others, through the program.</summary>
public sealed class ChartFilesTests : IDisposable
{
    private const string Json = """{"name": "Par", "categories": ["Dimmer"], "availableChannels": {"Dimmer": {"fineChannelAliases": ["Dimmer fine"], "capability": {"type": "Intensity"}}}, "modes": [{"name": "2ch", "channels": ["Dimmer", "Dimmer fine"]}]}""";

    private const string Description = """
        <?xml version="1.0"?><GDTF DataVersion="1.2"><FixtureType Name="x"><Geometries><Geometry Name="Body"/></Geometries><DMXModes><DMXMode Name="2ch" Geometry="Body"><DMXChannels>
        <DMXChannel DMXBreak="1" Offset="1,2" Geometry="Body"><LogicalChannel Attribute="Dimmer"><ChannelFunction Attribute="Dimmer" DMXFrom="0/1"/></LogicalChannel></DMXChannel>
        </DMXChannels></DMXMode></DMXModes></FixtureType></GDTF>
        """;

    private const string Scene = """
        <GeneralSceneDescription verMajor="1" verMinor="6"><Scene><Layers><Layer name="L" uuid="1"><ChildList>
        <Fixture name="Wash" uuid="u"><GDTFSpec>par.gdtf</GDTFSpec><GDTFMode>2ch</GDTFMode><FixtureID>101</FixtureID><Addresses><Address break="0">513</Address></Addresses></Fixture>
        </ChildList></Layer></Layers></Scene></GeneralSceneDescription>
        """;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-charts-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void One_mode_is_the_same_in_GDTF_in_JSON_and_typed()
    {
        string gdtf = ProgramRun.Of("chart", "show", Written("par.gdtf", Gdtf), "--as", "csv").Output;
        string json = ProgramRun.Of("chart", "show", Written("par.json", Encoding.UTF8.GetBytes(Json)), "--as", "csv").Output;
        Assert.Equal("mode,slot,function,from,to,meaning\n2ch,1,Dimmer,0,255,\n2ch,2,Dimmer fine,0,255,\n", gdtf);
        Assert.Equal(gdtf, json);
        Assert.Equal(gdtf, ProgramRun.Of("chart", "show", Written("par.csv", Encoding.UTF8.GetBytes(gdtf)), "--as", "csv").Output);
    }

    [Fact]
    public void A_chart_is_shown_as_text_and_as_JSON()
    {
        string path = Written("par.gdtf", Gdtf);
        Assert.Contains("fine byte of 1", ProgramRun.Of("chart", "show", path).Output, StringComparison.Ordinal);
        using JsonDocument page = JsonDocument.Parse(ProgramRun.Of("chart", "show", path, "--json").Output);
        Assert.Equal(2, page.RootElement.GetProperty("modes")[0].GetProperty("slots")[0].GetProperty("lowSlots")[0].GetInt32());
    }

    [Theory]
    [InlineData("par.gdtf")]
    [InlineData("PAR.JSON")]
    [InlineData("maker@par@first.gdtf")]
    [InlineData("par.csv")]
    public void A_sheet_finds_its_chart_in_any_form(string name)
    {
        byte[] octets = name.EndsWith("gdtf", StringComparison.Ordinal) ? Gdtf : Encoding.UTF8.GetBytes(name.EndsWith("JSON", StringComparison.Ordinal) ? Json : "mode,slot,function,from,to,meaning\n2ch,2,Dimmer,0,255,\n");
        Directory.CreateDirectory(Path.Combine(_folder.FullName, "charts"));
        Written("charts/" + name, octets);
        string sheet = Written("patch.csv", "unit,type,mode,universe,address\nA,par,2ch,1,1\nB,par,2ch,1,2\n"u8.ToArray());
        ProgramRun run = ProgramRun.Of("patch", "check", sheet);
        Assert.DoesNotContain("unknown-type", run.Output, StringComparison.Ordinal);
        Assert.Contains("address-overlap", ProgramRun.Of("patch", "check", sheet, "--json").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_MVR_file_is_a_sheet_with_its_charts()
    {
        string path = Written("hall.mvr", Zip(("GeneralSceneDescription.xml", Encoding.UTF8.GetBytes(Scene)), ("par.gdtf", Gdtf)));
        ProgramRun run = ProgramRun.Of("patch", "check", path, "--json");
        Assert.Equal("", run.Error);
        Assert.DoesNotContain("unknown-", run.Output, StringComparison.Ordinal);
        Assert.Contains("Mode '2ch': takes 2 slots", ProgramRun.Of("chart", "show", path).Output, StringComparison.Ordinal);
        Assert.Contains("there is no chart of 'x'", ProgramRun.Of("chart", "show", path, "--type", "x").Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a.gdtf", "PK\u0003\u0004 and then nothing")]
    [InlineData("a.json", "{ \"modes\": [")]
    [InlineData("a.json", "{}")]
    [InlineData("a.csv", "")]
    public void A_file_that_is_no_chart_is_refused_with_one_sentence(string name, string text) =>
        ProgramRun.Of("chart", "show", Written(name, Encoding.UTF8.GetBytes(text))).Refusal();

    [Fact]
    public void A_mode_left_out_is_said()
    {
        string two = Description.Replace("<DMXModes>", "<DMXModes><DMXMode Name=\"far\" Geometry=\"Body\"><DMXChannels><DMXChannel Offset=\"600\" Geometry=\"Body\"/></DMXChannels></DMXMode>", StringComparison.Ordinal);
        ProgramRun run = ProgramRun.Of("chart", "show", Written("two.gdtf", Zip(("description.xml", Encoding.UTF8.GetBytes(two)))));
        Assert.Contains("mode 'far' was left out", run.Output, StringComparison.Ordinal);
    }

    [SkippableTheory]
    [InlineData("gdtf/led_par_64_rgbw.gdtf")]
    [InlineData("gdtf/moving_head_32ch.gdtf")]
    [InlineData("gdtf/virtual_channel.gdtf")]
    [InlineData("mvr/basic_fixture.mvr")]
    [InlineData("ofl/generic_4-channel-dimmer-pack.json")]
    [InlineData("ofl/generic_cmy-fader.json")]
    [InlineData("ofl/generic_desk-channel.json")]
    [InlineData("ofl/generic_rgbw-fader.json")]
    [InlineData("ofl/generic_strobe.json")]
    public void Every_chart_of_others_is_shown_and_reads_back_as_CSV(string name)
    {
        string? path = Places.SharedFile(["captures", "fixtures", .. name.Split('/')]);
        Skip.If(path is null, Places.NoShared);
        Assert.Contains("taken as", ProgramRun.Of("chart", "show", path).Output, StringComparison.Ordinal);
        string csv = ProgramRun.Of("chart", "show", path, "--as", "csv").Output;
        Assert.Equal(csv, ProgramRun.Of("chart", "show", Written("again.csv", Encoding.UTF8.GetBytes(csv)), "--as", "csv").Output);
    }

    private static byte[] Gdtf => Zip(("description.xml", Encoding.UTF8.GetBytes(Description)));

    private static byte[] Zip(params (string Name, byte[] Octets)[] entries)
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] octets) in entries)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(octets);
            }
        }

        return file.ToArray();
    }

    private string Written(string name, byte[] octets)
    {
        string path = Path.Combine(_folder.FullName, name);
        File.WriteAllBytes(path, octets);
        return path;
    }
}
