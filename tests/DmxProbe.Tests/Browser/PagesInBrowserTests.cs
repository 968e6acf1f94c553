using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

using DmxProbe.Testing.Files;
using DmxProbe.Tests.Cli;

using SkiaSharp;

namespace DmxProbe.Tests.Browser;

/// <summary>The pages to hand over in a real browser, opened from disk: with and without scripts, on a desk and on a phone, light, dark and printed.</summary>
public sealed partial class PagesInBrowserTests(HeadlessBrowser browser) : IClassFixture<HeadlessBrowser>, IDisposable
{
    private const string Hostile = "</title><script>window.pwned=1;alert(1)</script><img src=x onerror=\"window.pwned=2\">' & \u001b[2J \u202egnp.exe";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public static TheoryData<string, int, bool, bool> Looks
    {
        get
        {
            TheoryData<string, int, bool, bool> looks = [];
            foreach (string page in Examples())
            {
                looks.Add(page, PageLook.Desk, true, false);
                looks.Add(page, PageLook.Desk, false, true);
                looks.Add(page, PageLook.Phone, true, true);
                looks.Add(page, PageLook.Phone, false, false);
            }

            return looks;
        }
    }

    public static TheoryData<string> Pages => [.. Examples()];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [SkippableTheory]
    [MemberData(nameof(Looks))]
    public async Task The_page_is_whole_and_quiet_and_nothing_overlaps(string name, int width, bool scripts, bool dark)
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        await using BrowserPage page = await browser.Open(Example(name), new PageLook(width, scripts, dark));
        JsonElement seen = await Quiet(page, name);
        Assert.InRange(seen.GetProperty("texts").GetInt32(), 100, int.MaxValue);
        Assert.Equal("[]", seen.GetProperty("overlaps").ToString());
        Assert.Equal("[]", seen.GetProperty("faint").ToString());
        Assert.Equal("[]", seen.GetProperty("beyond").ToString());
        Assert.Equal(width, seen.GetProperty("width").GetInt32());
        Assert.Equal(scripts, seen.GetProperty("filters").GetInt32() > 0);

        // The first screen of a desk holds the whole answer.
        Assert.True(width < PageLook.Desk || seen.GetProperty("answer").GetDouble() < 900);
        await NoEmptyStretch(page, width, seen.GetProperty("height").GetDouble(), dark);
        Assert.NotEqual(0, seen.GetProperty("pictures").GetArrayLength());
        foreach (JsonElement picture in seen.GetProperty("pictures").EnumerateArray())
        {
            await Drawn(page, picture);
        }
    }

    [SkippableTheory]
    [MemberData(nameof(Pages))]
    public async Task Printed_the_answer_takes_two_sheets_at_most(string name)
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        await using BrowserPage page = await browser.Open(Example(name), new PageLook(PageLook.Desk));
        int whole = await page.Sheets();
        await page.Value("document.getElementById('after').remove(); document.querySelector('footer').remove(); 0");
        int answer = await page.Sheets();
        Assert.InRange(answer, 1, 2);
        Assert.InRange(whole, answer + 1, 40);
    }

    [SkippableTheory]
    [MemberData(nameof(Pages))]
    public async Task No_label_of_a_picture_overlaps_another_and_every_axis_has_its_unit(string name)
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        string text = await File.ReadAllTextAsync(Example(name));
        int number = 0;
        foreach (Match picture in Svg().Matches(text))
        {
            string file = Path.Combine(_folder, $"{number++}.svg");
            await File.WriteAllBytesAsync(file, Convert.FromBase64String(picture.Groups[1].Value));
            await using BrowserPage page = await browser.Open(file, new PageLook(PageLook.Desk));
            JsonElement seen = await page.Value(await Script("PictureChecks.js"));
            Assert.Equal("[]", seen.GetProperty("overlaps").ToString());
            Assert.Equal("[]", seen.GetProperty("outside").ToString());
            string labels = seen.GetProperty("labels").ToString();
            Assert.Matches(", us|, ms|, Hz|h:min:s", labels);
        }

        Assert.NotEqual(0, number);
    }

    [SkippableFact]
    public async Task Hostile_names_of_files_senders_units_and_options_do_nothing()
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        string capture = Path.Combine(_folder, "<img src=x onerror=alert(1)>'\".pcapng");
        await File.WriteAllBytesAsync(capture, Renamed(await File.ReadAllBytesAsync("captures/harbour-hall/soundcheck.pcapng"), "main controller", "<script>window.pwned=3</script>\u202e\u001b[2J\"'><b>"));
        string sheet = Path.Combine(_folder, "sheet.csv");
        string rows = await File.ReadAllTextAsync("captures/harbour-hall/patch.csv");
        await File.WriteAllTextAsync(sheet, rows.Replace("LX1-6,", "<svg onload=window.pwned=4>,", StringComparison.Ordinal));
        string report = Path.Combine(_folder, "report.html");
        string[] charts = ["--charts", "captures/harbour-hall/charts"];
        string[] words = ["--title", Hostile, "--place", Hostile, "--by", Hostile, "--connected", Hostile, "--not-tested", Hostile];
        ProgramRun run = ProgramRun.Of(["report", capture, "--patch", sheet, .. charts, "--unit", "<svg onload=window.pwned=4>", "--workaround", Hostile, .. words, "-o", report]);
        Assert.Equal("", run.Error);
        string record = Path.Combine(_folder, "record.html");
        Assert.Equal("", ProgramRun.Of(["timing", capture, .. words, "--report", record]).Error);
        foreach (string path in new[] { report, record })
        {
            await using BrowserPage page = await browser.Open(path, new PageLook(PageLook.Phone));
            JsonElement seen = await Quiet(page, Path.GetFileName(path));
            Assert.False(seen.GetProperty("alive").GetBoolean());
            Assert.Equal("[]", seen.GetProperty("overlaps").ToString());
            Assert.Equal(PageLook.Phone, seen.GetProperty("width").GetInt32());
            string text = (await page.Value("document.body.textContent + document.title")).GetString()!;
            Assert.Contains("<script>window.pwned=1", text, StringComparison.Ordinal);
            Assert.Contains("<script>window.pwned=3</script>", text, StringComparison.Ordinal);
            Assert.DoesNotContain('\u202e', text);
            Assert.DoesNotContain('\u001b', text);
        }
    }

    [SkippableFact]
    public async Task The_policy_stops_what_should_ever_slip_into_a_page()
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        string text = await File.ReadAllTextAsync(Example("stage-left-timing.html"));
        string path = Path.Combine(_folder, "slipped.html");
        await File.WriteAllTextAsync(path, text.Replace("<main id=\"main\">", "<main id=\"main\"><script>window.pwned=1</script><img src=\"x\" onerror=\"window.pwned=2\"><img src=\"https://example.org/x.png\">", StringComparison.Ordinal));
        await using BrowserPage page = await browser.Open(path, new PageLook(PageLook.Desk));
        Assert.False((await page.Value("typeof window.pwned !== 'undefined'")).GetBoolean());
        Assert.DoesNotContain(page.Requests, address => address.StartsWith("http", StringComparison.Ordinal));
        Assert.Contains(page.Said, said => said.Contains("Content Security Policy", StringComparison.Ordinal));
    }

    [SkippableFact]
    public async Task The_checks_see_what_they_are_for()
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        string path = Path.Combine(_folder, "bad.html");
        await File.WriteAllTextAsync(path, """
            <!doctype html><meta name="viewport" content="width=device-width"><body><div class="answer">answer</div>
            <p style="position:absolute;top:100px;left:20px">one above</p><p style="position:absolute;top:104px;left:30px">the other</p>
            <p style="color:#bbb">faint</p><p style="width:900px;white-space:nowrap">much too wide for a phone, much too wide for a phone, much too wide for a phone, much too wide</p>
            <script>console.error("said")</script>
            """);
        await using BrowserPage page = await browser.Open(path, new PageLook(PageLook.Phone));
        JsonElement seen = await page.Value(await Script("PageChecks.js"));
        Assert.Contains("one above | the other", seen.GetProperty("overlaps").ToString(), StringComparison.Ordinal);
        Assert.Contains("faint", seen.GetProperty("faint").ToString(), StringComparison.Ordinal);
        Assert.InRange(seen.GetProperty("width").GetInt32(), PageLook.Phone + 1, 2_000);
        Assert.Contains(page.Said, said => said.Contains("said", StringComparison.Ordinal));
    }

    [SkippableFact]
    public async Task The_box_above_a_long_table_keeps_the_rows_with_a_text()
    {
        Skip.If(browser.Missing.Length > 0, browser.Missing);
        await using BrowserPage page = await browser.Open(Example("stage-left-timing.html"), new PageLook(PageLook.Desk));
        JsonElement rows = await page.Value(
            "(() => { const box = document.querySelector('label.filter input'); box.value = 'mark after break'; box.dispatchEvent(new Event('input')); return Array.from(document.querySelector('table').tBodies[0].rows).filter(row => !row.hidden).length; })()");
        Assert.Equal(2, rows.GetInt32());
    }

    private static async Task<JsonElement> Quiet(BrowserPage page, string name)
    {
        JsonElement seen = await page.Value(await Script("PageChecks.js"));
        Assert.Empty(page.Said);
        Assert.All(page.Requests, address => Assert.True(
            address.StartsWith("data:", StringComparison.Ordinal) || (address.StartsWith("file:///", StringComparison.Ordinal) && address.EndsWith(Uri.EscapeDataString(name), StringComparison.Ordinal)), address));
        Assert.NotEmpty(page.Requests);
        return seen;
    }

    // Pixels: a picture has ink, neither none nor everywhere, and more than one colour besides the paper.
    private static async Task Drawn(BrowserPage page, JsonElement picture)
    {
        Assert.True(picture.GetProperty("loaded").GetBoolean(), picture.ToString());
        using SKBitmap shot = await page.Shot(
            Math.Max(0, picture.GetProperty("left").GetDouble()), picture.GetProperty("top").GetDouble(), picture.GetProperty("width").GetDouble(), picture.GetProperty("height").GetDouble());
        SKColor[] pixels = shot.Pixels;
        double ink = pixels.Count(pixel => pixel.Red + pixel.Green + pixel.Blue < 600) / (double)pixels.Length;
        Assert.InRange(ink, 0.004, 0.9);
        Assert.InRange(pixels.Distinct().Count(), 8, int.MaxValue);
    }

    // Pixels: no stretch as high as half a window is of one colour.
    private static async Task NoEmptyStretch(BrowserPage page, int width, double height, bool dark)
    {
        const int stretch = 450;
        const int most = 8_000;
        int empty = 0;
        bool isPaper = false;
        for (double top = 0; top < height; top += most)
        {
            using SKBitmap shot = await page.Shot(0, top, width, Math.Min(most, height - top));
            for (int row = 0; row < shot.Height; row++)
            {
                SKColor first = shot.GetPixel(0, row);
                isPaper |= dark == (first.Red < 60);
                bool isBlank = Enumerable.Range(0, shot.Width / 2).All(column => shot.GetPixel(column * 2, row) == first);
                empty = isBlank ? empty + 1 : 0;
                Assert.True(empty < stretch, $"nothing to see for {stretch} pixels above {top + row}");
            }
        }

        Assert.True(isPaper, "the paper is not of the shade the person prefers");
    }

    private static byte[] Renamed(byte[] capture, string from, string to)
    {
        const int field = 64; // E1.31-2018 table 6-1: the source name has 64 octets
        byte[] before = new byte[field];
        byte[] after = new byte[field];
        Encoding.UTF8.GetBytes(from, before);
        Assert.InRange(Encoding.UTF8.GetBytes(to, after), 1, field - 1);
        int count = 0;
        for (int at = capture.AsSpan().IndexOf(before); at >= 0; count++)
        {
            after.CopyTo(capture, at);
            int next = capture.AsSpan(at + field).IndexOf(before);
            at = next < 0 ? -1 : at + field + next;
        }

        Assert.InRange(count, 100, int.MaxValue);
        return capture;
    }

    private static string Example(string name) => Path.Combine(Places.Repository, "docs", "examples", name);

    private static IEnumerable<string> Examples() =>
        Directory.GetFiles(Path.Combine(Places.Repository, "docs", "examples"), "*.html").Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal);

    private static Task<string> Script(string name) => File.ReadAllTextAsync(Path.Combine(Places.Repository, "tests", "DmxProbe.Tests", "Browser", name));

    [GeneratedRegex("data:image/svg\\+xml;base64,([A-Za-z0-9+/=]+)")]
    private static partial Regex Svg();
}
