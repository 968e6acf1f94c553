using System.Diagnostics;

using AngleSharp.Dom;
using AngleSharp.Html.Parser;

using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Tests.Cli;

/// <summary>Two taps of one moment side by side in a report, against a link whose freezes are planted.</summary>
public sealed class ReportLinkTests : IDisposable
{
    private const long Second = 1_000_000_000;
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Planted_freezes_stand_in_the_answer_and_in_the_data_of_the_pictures()
    {
        (string near, string far) = Taps((12 * Second, 640_000_000), (20 * Second, 320_000_000));
        using IDocument page = Report(1, near, far);
        Assert.Contains("it froze 2 times, longest", page.QuerySelector(".answer")!.TextContent, StringComparison.Ordinal);
        List<string[]> rows = Rows(page, "The data of: Two taps: frames of");
        Assert.InRange(rows.Count, 50, 240);

        // A bin lasts 0.5 s: what is frozen is known from what was planted, in seconds from the first frame.
        double[] frozen = [.. rows.Index().Where(row => row.Item[3] == "yes").Select(row => row.Index * 0.5)];
        Assert.All(frozen, at => Assert.True((at >= 11.5 && at <= 13) || (at >= 19.5 && at <= 21), $"{at} s"));
        Assert.Contains(frozen, at => at is >= 11.5 and <= 12.5);
        Assert.Contains(frozen, at => at is >= 19.5 and <= 20.5);
        Assert.NotEmpty(Rows(page, "The data of: Two taps: latency of"));
        Assert.Contains(Rows(page, "From "), row => row[0] == "freezes" && row[1].Contains(" for ", StringComparison.Ordinal));
    }

    [Fact]
    public void Taps_named_in_the_wrong_order_are_doubted_and_nothing_that_rests_on_it_is_told_or_drawn()
    {
        (string near, string far) = Taps((12 * Second, 640_000_000), (20 * Second, 320_000_000));
        using IDocument page = Report(1, far, near);
        string said = page.Body!.TextContent;
        Assert.Contains("may be named in the wrong order, or their clocks differ", said, StringComparison.Ordinal);
        Assert.DoesNotContain("it froze", said, StringComparison.Ordinal);
        Assert.DoesNotContain("Two taps: frames of", said, StringComparison.Ordinal);
        Assert.DoesNotContain("first in record", said, StringComparison.Ordinal);
    }

    // What comes out is known octet for octet from the simulated link, what went in by the offsets of the packet alone. 20 s: up to
    // 800 changes each stands for itself.
    [Fact]
    public void The_latencies_are_those_of_the_changes_that_came_out()
    {
        const long zero = 1_700_000_000_000_000_000;
        const int headers = 14 + 20 + 8 + 126;
        (ICaptureSource network, _) = Moving(20);
        Dictionary<string, long> wentIn = [];
        while (network.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            wentIn.TryAdd(Convert.ToHexString(record.Data[headers..]), record.Time.UnixNanoseconds - zero);
        }

        List<byte[]> cameOut = [];
        SimulatedLink link = new() { Alter = (_, slots) => cameOut.Add([.. slots]) };
        string far = Record(link.Run(Moving(20).Line), "far");
        double[] late =
        [
            .. Enumerable.Range(1, cameOut.Count - 1).Where(at => !cameOut[at].AsSpan().SequenceEqual(cameOut[at - 1]))
                .Select(at => (link.Times[at] - wentIn[Convert.ToHexString(cameOut[at])]) / 1e6).Order(),
        ];

        using IDocument page = Report(0, Record(Moving(20).Network, "near"), far);
        double[] told = [.. Rows(page, "The data of: Two taps: latency of").Select(row => double.Parse(row[1], System.Globalization.CultureInfo.InvariantCulture)).Order()];
        Assert.InRange(told.Length, late.Length * 0.95, late.Length);
        foreach (double share in (double[])[0.1, 0.5, 0.9])
        {
            Assert.Equal(late[(int)(late.Length * share)] - late[0], told[(int)(told.Length * share)] - told[0], 1.0);
        }
    }

    // The drawing library's own part writes past the program, straight to the terminal: only a process of its own shows it.
    [Fact]
    public async Task Nothing_but_our_own_words_reaches_the_terminal()
    {
        (string near, string far) = Taps((12 * Second, 640_000_000), (20 * Second, 320_000_000));
        ProcessStartInfo start = new("dotnet") { RedirectStandardError = true, RedirectStandardOutput = true };
        foreach (string word in (string[])[Path.Combine(AppContext.BaseDirectory, "dmxprobe.dll"), "report", near, far, "-o", Path.Combine(_folder, "terminal.html")])
        {
            start.ArgumentList.Add(word);
        }

        using Process report = Process.Start(start)!;
        Task<string> error = report.StandardError.ReadToEndAsync();
        string output = await report.StandardOutput.ReadToEndAsync();
        await report.WaitForExitAsync();
        Assert.Equal(1, report.ExitCode);
        Assert.Equal("", await error);
        Assert.NotEmpty(output);
        Assert.DoesNotContain("Unsupported", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_tells_times_by_one_clock_and_says_whose()
    {
        (string near, string far) = Taps((12 * Second, 640_000_000));
        using IDocument page = Report(1, near, far);
        string answer = page.QuerySelector(".answer")!.TextContent;
        Assert.Contains($"Times on this page are by the clock of {near}", answer, StringComparison.Ordinal);
        string freezes = Rows(page, "From ").Single(row => row[0] == "freezes")[1];
        Assert.Contains($"(at {freezes[..freezes.IndexOf(" for ", StringComparison.Ordinal)]})", answer, StringComparison.Ordinal);
        using IDocument alone = Report(0, near);
        Assert.DoesNotContain("by the clock of", alone.QuerySelector(".answer")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_recording_given_twice_is_said_and_its_faults_count_once()
    {
        const string Hall = "captures/harbour-hall/soundcheck.pcapng";
        string copy = Path.Combine(_folder, "copy.pcapng");
        File.Copy(Hall, copy);
        using IDocument once = Report(1, Hall);
        foreach (string again in new[] { Hall, copy })
        {
            using IDocument twice = Report(1, Hall, again);
            string answer = twice.QuerySelector(".answer")!.TextContent;
            Assert.Contains("the same recording", answer, StringComparison.Ordinal);
            Assert.Contains("In all: 1 fault", answer, StringComparison.Ordinal);
            Assert.Equal(once.QuerySelectorAll("#main .finding").Length, twice.QuerySelectorAll("#main .finding").Length);
        }
    }

    [Theory]
    [InlineData("LX1-6", "captures/harbour-hall/stage-left.vcd")]
    [InlineData("LX1-6,LX2-1", null)]
    public void The_answer_says_no_sentence_twice(string bad, string? line)
    {
        string[] inputs = ["captures/harbour-hall/soundcheck.pcapng", .. line is null ? [] : new[] { line }];
        using IDocument page = Report(1, [.. inputs, "--patch", "captures/harbour-hall/patch.csv", "--bad", bad]);
        string all = page.QuerySelector(".answer")!.TextContent;
        string[] sentences = [.. page.QuerySelectorAll(".answer p").Select(paragraph => paragraph.TextContent.TrimEnd('.'))];
        Assert.All(sentences, sentence => Assert.Equal(1, all.Split(sentence).Length - 1));
    }

    [Fact]
    public void A_good_link_is_no_fault_and_its_frames_are_counted_once()
    {
        (string near, string far) = Taps();
        using IDocument page = Report(0, near, far);
        Assert.Contains("0 of 1 link with something wrong", page.QuerySelector(".answer")!.TextContent, StringComparison.Ordinal);
        Assert.Single(Rows(page, "Universes and senders"), row => row[0] == "sACN 1");
    }

    [Fact]
    public void A_line_of_another_moment_is_left_open_and_not_called_a_fault()
    {
        using IDocument page = Report(1, "captures/harbour-hall/soundcheck.pcapng", "captures/harbour-hall/stage-left.vcd");
        Assert.DoesNotContain("came out different", page.QuerySelector(".answer")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("too few to say how late it is", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    private (string Near, string Far) Taps(params (long From, long Length)[] freezes)
    {
        (ICaptureSource network, IReadOnlyList<(long Time, byte[] Slots)> line) = Moving(30);
        return (Record(network, "near"), Record(new SimulatedLink { Freezes = freezes }.Run(line), "far"));
    }

    private static (ICaptureSource Network, IReadOnlyList<(long Time, byte[] Slots)> Line) Moving(int seconds)
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(1, 30_000_000)));
        ICaptureSource network = gateway.Run(seconds * Second).Network;
        return (network, gateway.LinePackets);
    }

    private string Record(ICaptureSource source, string name) => RecordedShow.Segment(source, Path.Combine(_folder, name));

    private IDocument Report(int code, params string[] inputs)
    {
        string file = Path.Combine(_folder, Path.GetRandomFileName() + ".html");
        ProgramRun run = ProgramRun.Of(["report", .. inputs, "--utc", "-o", file]);
        Assert.Equal("", run.Error);
        Assert.Equal(code, run.Code);
        return new HtmlParser().ParseDocument(File.ReadAllText(file));
    }

    private static List<string[]> Rows(IDocument page, string name) =>
    [
        .. page.QuerySelectorAll($"div[aria-label^=\"{name}\"] tbody tr").Select(row => row.QuerySelectorAll("td").Select(cell => cell.TextContent).ToArray()),
    ];
}
