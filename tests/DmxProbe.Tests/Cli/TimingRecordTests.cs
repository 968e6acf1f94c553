using System.Globalization;
using System.Security.Cryptography;

using AngleSharp.Dom;
using AngleSharp.Html.Parser;

using DmxProbe.Testing.Files;

namespace DmxProbe.Tests.Cli;

/// <summary><c>timing --report</c> over a line, a network, a serial port, undecided input and rubbish.</summary>
public sealed class TimingRecordTests : IDisposable
{
    private const string Line = "captures/harbour-hall/stage-left.vcd";
    private const string Network = "captures/harbour-hall/soundcheck.pcapng";
    private const string Desk = "captures/bench/desk-1mhz.vcd";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_line_has_an_answer_for_each_limit_and_the_one_it_breaks_stands_first()
    {
        using IDocument page = Page(1, Line);
        List<string[]> rows = Rows(page, "The answer for each limit");
        Assert.Equal("mark after break", rows[0][0]);
        Assert.Equal("to send: 12 us to 1 s", rows[0][1]);
        Assert.Equal("OUTSIDE", rows[0][2]);
        Assert.Equal("8.90 to 13.7 us", rows[0][3]);
        Assert.Equal("90 of 105", rows[0][5]);
        Assert.Contains(rows, row => row[0] == "mark after break" && row[1] == "a receiver must accept: 8 us to 1 s" && row[2] == "within");
        Assert.Single(rows, row => row[2] == "OUTSIDE");
        Assert.Contains("Outside 1 of 15 limits", page.QuerySelector(".answer")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("not a certificate of conformity", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_has_its_histograms_with_the_limits_in_words()
    {
        using IDocument page = Page(1, Line);
        string[] titles = [.. page.QuerySelectorAll("h3").Select(head => head.TextContent)];
        foreach (string quantity in new[] { "Break", "Mark after break", "Inter slot", "Slot time", "Refresh rate" })
        {
            Assert.Contains($"{quantity} of line A 'stage left data +'", titles);
        }

        Assert.Contains(page.QuerySelectorAll("figcaption"), caption => caption.TextContent.Contains("To send: at least 92 us", StringComparison.Ordinal));
    }

    [Fact]
    public void A_recorder_too_coarse_leaves_the_limits_undecided_and_says_by_how_much()
    {
        using IDocument page = Page(0, Desk);
        List<string[]> rows = Rows(page, "The answer for each limit");
        Assert.Equal(["bit time", "mark after break", "slot time"], rows.Where(row => row[2] == "cannot be decided with this input").Select(row => row[0]).Order(StringComparer.Ordinal));
        Assert.DoesNotContain(rows, row => row[2] == "OUTSIDE");
        Assert.Matches(@"mark after break \(±1\.00 us\)", page.QuerySelector("main")!.TextContent);
    }

    [Fact]
    public void A_network_decides_what_arrives_and_leaves_the_line_open()
    {
        using IDocument page = Page(0, Network);
        List<string[]> rows = Rows(page, "The answer for each limit");
        Assert.All(rows.Where(row => row[0] is "break" or "mark after break" or "slot time"), row => Assert.Equal("cannot be decided with this input", row[2]));
        Assert.Contains(rows, row => row[0] == "refresh rate" && row[2] == "within");
        Assert.Contains("only line edges show it", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        Assert.Contains(page.QuerySelectorAll("h3"), head => head.TextContent.StartsWith("Time from frame to frame of sACN 2", StringComparison.Ordinal));
    }

    [Fact]
    public void The_files_stand_with_their_hashes_and_the_options_with_their_values()
    {
        using IDocument page = Page(1, Line, "--clock-ppm", "50");
        Assert.Contains(Rows(page, "Files"), row => row[0] == "stage-left.vcd" && row[3] == Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(Line))));
        Assert.Contains(Rows(page, "Options used"), row => row is ["--clock-ppm", "50", "given"]);
        Assert.Contains(Rows(page, "Options used"), row => row is ["--against", "start-code", "by itself"]);
        Assert.Contains("dmxprobe timing stage-left.vcd --clock-ppm 50 --report PAGE.html", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_files_and_options_give_the_same_page_wherever_they_are_and_whenever()
    {
        string elsewhere = Path.Combine(_folder, "elsewhere");
        Directory.CreateDirectory(elsewhere);
        string copy = Path.Combine(elsewhere, "stage-left.vcd");
        File.Copy(Line, copy);
        string first = Written(1, Line);
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            // A culture that writes 1.234,5.
            CultureInfo other = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            other.NumberFormat.NumberDecimalSeparator = ",";
            other.NumberFormat.NumberGroupSeparator = ".";
            other.NumberFormat.NegativeSign = "\u2212";
            CultureInfo.CurrentCulture = other;
            Assert.Equal(first, Written(1, copy, zone: TimeZoneInfo.CreateCustomTimeZone("x", TimeSpan.FromHours(5), "x", "x")));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }

        Assert.DoesNotContain(_folder, first, StringComparison.Ordinal);
        Assert.DoesNotContain(Places.Repository, first, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_files_of_one_name_are_told_apart()
    {
        string copy = Path.Combine(_folder, "stage-left.vcd");
        File.Copy(Line, copy);
        using IDocument page = Page(1, Line, copy, "--taps", "off");
        Assert.Equal(["harbour-hall/stage-left.vcd", Path.GetFileName(_folder) + "/stage-left.vcd"], Rows(page, "Files").Select(row => row[0]));
    }

    [Theory]
    [InlineData("is a live input", "net", "--report", "x.html")]
    [InlineData("put it into a file first", "-", "--report", "x.html")]
    [InlineData("add --report", Line, "--by", "me")]
    public void What_no_record_can_rest_on_is_refused(string part, params string[] words) =>
        Assert.Contains(part, ProgramRun.Of(["timing", .. words]).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_page_that_exists_is_not_written_over_and_a_refusal_leaves_none()
    {
        string file = Path.Combine(_folder, "record.html");
        File.WriteAllText(file, "mine");
        Assert.Contains("nothing is written over", ProgramRun.Of("timing", Line, "--report", file).Refusal(), StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(file));
        File.Delete(file);
        ProgramRun.Of("timing", "captures/harbour-hall/patch.csv", "--report", file).Refusal();
        Assert.Empty(Directory.GetFileSystemEntries(_folder));
    }

    private static List<string[]> Rows(IDocument page, string name) =>
    [
        .. page.QuerySelectorAll($"div[aria-label^=\"{name}\"] tbody tr").Select(row => row.QuerySelectorAll("td").Select(cell => cell.TextContent).ToArray()),
    ];

    private IDocument Page(int code, params string[] words) => new HtmlParser().ParseDocument(Written(code, words));

    private string Written(int code, params string[] words) => Written(code, words, TimeZoneInfo.Utc);

    private string Written(int code, string word, TimeZoneInfo zone) => Written(code, [word], zone);

    private string Written(int code, string[] words, TimeZoneInfo zone)
    {
        string file = Path.Combine(_folder, "record.html");
        ProgramRun run = ProgramRun.With(120, color: false, zone, default, ["timing", .. words, "--report", file]);
        Assert.Equal("", run.Error);
        Assert.Equal(code, run.Code);
        string page = File.ReadAllText(file);
        File.Delete(file);
        return page;
    }
}
