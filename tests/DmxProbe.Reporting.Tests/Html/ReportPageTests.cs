using System.Text;
using System.Text.RegularExpressions;

using AngleSharp.Dom;
using AngleSharp.Html.Parser;

using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Reporting.Html;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Reporting.Tests.Html;

/// <summary>The page as a general HTML parser reads it.</summary>
public partial class ReportPageTests
{
    private const string Hostile = "</title><script>alert(1)</script><img src=x onerror=alert(2)>\" ' & \u001b[2J \u202e";

    [Fact]
    public void Hostile_names_stay_text_everywhere()
    {
        using IDocument page = Page(Content() with
        {
            Title = Hostile,
            Place = Hostile,
            By = Hostile,
            Command = Hostile,
            Connected = [Hostile],
            Workarounds = [Hostile],
            NotTested = [Hostile],
            MoreFindings = [new Finding { Id = "x", Severity = Severity.Fault, Subject = Hostile, Text = Hostile, Action = Hostile, Measured = Hostile, Limit = Hostile, LimitSource = Hostile, Cautions = [Hostile] }],
            Taps = [Hostile],
            Pictures = [new Picture(Hostile, "<svg xmlns='http://www.w3.org/2000/svg'/>", 10, 10, Hostile, [Hostile], [[Hostile]])],
            Files = [new ReportFile(Hostile, 1, "AB", Hostile)],
        });
        Assert.Single(page.Scripts);
        Assert.All(page.QuerySelectorAll("img"), image => Assert.StartsWith("data:image/svg+xml;base64,", image.GetAttribute("src"), StringComparison.Ordinal));
        Assert.All(page.All, element => Assert.DoesNotContain(element.Attributes, attribute => attribute.Name.StartsWith("on", StringComparison.OrdinalIgnoreCase) || attribute.Name == "style"));
        Assert.DoesNotContain('\u001b', page.DocumentElement.OuterHtml);
        Assert.DoesNotContain('\u202e', page.DocumentElement.OuterHtml);
        Assert.Contains("<script>alert(1)</script>", page.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_asks_the_network_for_nothing_and_allows_its_own_style_and_script_only()
    {
        using IDocument page = Page(Content());
        string policy = page.QuerySelector("meta[http-equiv]")!.GetAttribute("content")!;
        Assert.StartsWith("default-src 'none'; img-src data:; style-src 'sha256-", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        foreach ((string element, string directive) in new[] { ("style", "style-src"), ("script", "script-src") })
        {
            byte[] hash = System.Security.Cryptography.SHA256.HashData(Encoding.UTF8.GetBytes(page.QuerySelector(element)!.TextContent));
            Assert.Contains($"{directive} 'sha256-{Convert.ToBase64String(hash)}'", policy, StringComparison.Ordinal);
        }

        Assert.All(page.QuerySelectorAll("a"), link => Assert.Matches("^(#|data:)", link.GetAttribute("href")!));
        Assert.Empty(page.QuerySelectorAll("link, iframe, object, form"));
    }

    [Fact]
    public void Every_heading_table_and_picture_can_be_found_without_looking()
    {
        using IDocument page = Page(Content() with { Pictures = [new Picture("A picture", "<svg/>", 10, 10, "It shows a line.", ["a"], [["1"]])] });
        Assert.Equal("en", page.DocumentElement.GetAttribute("lang"));
        Assert.Single(page.QuerySelectorAll("h1"));
        Assert.All(page.QuerySelectorAll("img"), image => Assert.NotEmpty(image.GetAttribute("alt")!));
        Assert.All(page.QuerySelectorAll("table"), table => Assert.NotEmpty(table.ParentElement!.GetAttribute("aria-label")!));
        Assert.All(page.QuerySelectorAll("th"), head => Assert.Equal("col", head.GetAttribute("scope")));
        Assert.All(page.QuerySelectorAll("nav a"), link => Assert.NotNull(page.QuerySelector(link.GetAttribute("href")!)));
    }

    [Fact]
    public void The_answer_comes_first()
    {
        using IDocument page = Page(Content());
        Assert.Equal(
            ["The answer", "Open faults", "Work-arounds in force", "What was not tested", "What was connected where", "Instrument and resolution", "Limits used", "Results", "Pictures"],
            page.QuerySelectorAll("h2").Select(head => head.TextContent).Take(9));
    }

    [Fact]
    public void The_same_content_gives_the_same_page() => Assert.Equal(Bytes(Content()), Bytes(Content()));

    [Fact]
    public void Long_data_is_a_download_and_short_data_a_table()
    {
        string[][] rows = [.. Enumerable.Range(0, 4_000).Select(row => new[] { row.ToString(System.Globalization.CultureInfo.InvariantCulture) })];
        using IDocument page = Page(Content() with { Pictures = [new Picture("Long", "<svg/>", 1, 1, "words", ["a"], rows), new Picture("Short", "<svg/>", 1, 1, "words", ["a"], rows[..3])] });
        IElement link = page.QuerySelector("a[download]")!;
        string csv = Encoding.UTF8.GetString(Convert.FromBase64String(Data().Match(link.GetAttribute("href")!).Groups[1].Value));
        Assert.Equal(4_001, csv.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal(3, page.QuerySelectorAll("details tbody tr").Length);
    }

    private static ReportContent Content()
    {
        SurveySnapshot survey = FullSurvey.With();
        return new ReportContent
        {
            Title = "Report",
            Instrument = "DmxProbe test",
            Command = "dmxprobe report a.pcapng -o report.html",
            Survey = survey,
            Timed = FullSurvey.Timed is { } timed ? [timed] : [],
            NotTested = ["the line"],
            Files = [new ReportFile("a.pcapng", 12, "00FF", "input")],
            Clock = new WallClock(TimeZoneInfo.Utc, survey.First, survey.Last),
        };
    }

    private static byte[] Bytes(ReportContent content)
    {
        using MemoryStream output = new();
        ReportPage.Write(output, content);
        return output.ToArray();
    }

    private static IDocument Page(ReportContent content) => new HtmlParser().ParseDocument(Encoding.UTF8.GetString(Bytes(content)));

    [GeneratedRegex("base64,(.*)$")]
    private static partial Regex Data();
}
