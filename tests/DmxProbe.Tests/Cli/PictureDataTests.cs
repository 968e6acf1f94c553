using System.Globalization;
using System.Text;

using AngleSharp.Dom;
using AngleSharp.Html.Parser;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.HarbourHall;
using DmxProbe.Testing.Network;

namespace DmxProbe.Tests.Cli;

/// <summary>The data behind each picture, against what the simulator sent: its own ledger, not our reading of the files.</summary>
public sealed class PictureDataTests : IClassFixture<PictureDataTests.Hall>
{
    private static readonly UniverseId Sacn2 = new(UniverseProtocol.Sacn, 2);
    private static readonly UniverseId ArtNet0 = new(UniverseProtocol.ArtNet, 0);
    private static readonly Duration Bin = Duration.FromMilliseconds(500); // 60 s need no doubling
    private readonly IDocument _page;

    public PictureDataTests(Hall hall) => _page = hall.Page;

    [Theory]
    [InlineData("Break of line A", "break")]
    [InlineData("Mark after break of line A", "mark")]
    public void Each_bar_of_a_histogram_counts_the_packets_that_were_sent_so(string title, string what)
    {
        double[] sent = [.. HarbourLine.Line(HarbourHallFaults.All).Sent.Where(packet => packet.FirstStart < HarbourLine.Ends).Select(packet =>
            Math.Round((what == "break" ? packet.BreakEnd - packet.BreakStart : packet.FirstStart - packet.BreakEnd) / 1e3, 1))];
        List<string[]> rows = Rows(title);
        Assert.Equal(sent.Length, rows.Sum(row => Number(row[2])));
        foreach (string[] row in rows)
        {
            // A value on the edge of two bars may be in either.
            (double from, double to) = (Number(row[0]), Number(row[1]));
            Assert.InRange(Number(row[2]), sent.Count(value => value > from + 0.06 && value < to - 0.06), sent.Count(value => value > from - 0.06 && value < to + 0.06));
        }
    }

    [Fact]
    public void The_rates_are_the_frames_that_came_in_each_span()
    {
        SimulatedCapture capture = HarbourHallScenario.Capture(HarbourHallFaults.All);
        Timestamp start = capture.Packets.First(packet => packet.Sent.Kind == PacketKind.Levels).Time;
        List<string[]> rows = Rows("Rates and losses");
        int column = Heads("Rates and losses").FindIndex(head => head.StartsWith("sACN 2 from main controller", StringComparison.Ordinal));
        Assert.InRange(column, 1, 20);
        for (int bin = 0; bin < rows.Count - 1; bin++)
        {
            (Timestamp from, Timestamp to) = (start + (Bin * bin), start + (Bin * (bin + 1)));
            int sent = capture.Packets.Count(packet => packet.Sent is { Kind: PacketKind.Levels, Sender: "main controller" } && packet.Sent.Universe == Sacn2 && packet.Time >= from && packet.Time < to);
            Assert.Equal(sent, Number(rows[bin][column]) * Bin.TotalSeconds, 0.01);
            Assert.Equal("0", rows[bin][column + 1]);
        }
    }

    [Fact]
    public void The_levels_of_a_unit_are_lowest_and_highest_of_what_was_sent()
    {
        const int firstSlot = 61;
        const int artDmxHeader = 18; // Art-Net 4: 18 octets before the first slot of ArtDmx
        const int udp = 14 + 20 + 8;
        SimulatedPacket[] packets = [.. HarbourHallScenario.Capture(HarbourHallFaults.All).Packets.Where(packet => packet.Sent.Kind == PacketKind.Levels && packet.Sent.Universe == ArtNet0)];
        List<string[]> rows = Rows("LX1-6 (1.061");
        Timestamp start = packets[0].Time;
        for (int slot = 0; slot < 4; slot++)
        {
            for (int bin = 1; bin < rows.Count; bin++)
            {
                (Timestamp from, Timestamp to) = (start + (Bin * bin), start + (Bin * (bin + 1)));
                byte[] levels = [.. packets.Where(packet => packet.Time >= from && packet.Time < to).Select(packet => packet.Sent.Frame[udp + artDmxHeader + firstSlot - 1 + slot])];
                if (levels.Length > 0)
                {
                    string expected = levels.Min() == levels.Max() ? Text(levels.Min()) : $"{Text(levels.Min())} to {Text(levels.Max())}";
                    Assert.Equal(expected, rows[bin][slot + 1]);
                }
            }
        }
    }

    // E1.31-2018 table 4-1: 126 octets before the first slot.
    [Fact]
    public void The_activity_of_a_universe_is_the_slots_that_differ_from_the_frame_before()
    {
        const int headers = 14 + 20 + 8 + 126;
        SimulatedCapture capture = HarbourHallScenario.Capture(HarbourHallFaults.All);
        Timestamp start = capture.Packets.First(packet => packet.Sent.Kind == PacketKind.Levels).Time;
        int column = Heads("Universes over the time covered").FindIndex(head => head.StartsWith("sACN 2,", StringComparison.Ordinal));
        Assert.InRange(column, 1, 20);
        List<string[]> rows = Rows("Universes over the time covered");
        double[] changed = new double[rows.Count];
        Dictionary<string, byte[]> before = [];
        foreach (SimulatedPacket packet in capture.Packets.Where(packet => packet.Sent.Kind == PacketKind.Levels && packet.Sent.Universe == Sacn2))
        {
            byte[] slots = packet.Sent.Frame[headers..];
            if (before.TryGetValue(packet.Sent.Sender, out byte[]? last))
            {
                changed[(int)((packet.Time - start).Nanoseconds / Bin.Nanoseconds)] += slots.Zip(last).Count(pair => pair.First != pair.Second);
            }

            before[packet.Sent.Sender] = slots;
        }

        Assert.True(changed.Count(count => count > 0) > 20, "hardly anything moves");
        for (int bin = 0; bin < rows.Count - 1; bin++)
        {
            Assert.Equal(changed[bin] / Bin.TotalSeconds, Number(rows[bin][column]), 0.01);
        }
    }

    // The readings are those of the file; gain and offset by least squares leave the mean as it is; the claim follows the light, the runner-up less.
    [Fact]
    public void The_evidence_of_a_claim_is_the_trace_and_a_prediction_that_follows_it()
    {
        double[] light = [.. File.ReadLines("captures/harbour-hall/lx1-6-trace.csv").Skip(1).Select(line => line.Split(',').Skip(1).Average(Number))];
        List<string[]> rows = Rows("Why LX1-6 is said to read 1.016");
        int step = (light.Length + 899) / 900; // at most 900 points
        double[] shown = [.. light.Where((_, index) => index % step == 0)];
        double[][] columns = [.. Enumerable.Range(1, 3).Select(column => rows.Select(row => Number(row[column])).ToArray())];
        Assert.Equal(shown.Length, rows.Count);
        Assert.All(shown.Zip(columns[0]), pair => Assert.Equal(pair.First, pair.Second, 0.001));
        Assert.Equal(shown.Average(), columns[1].Average(), 0.002);
        Assert.InRange(Likeness(columns[0], columns[1]), 0.9, 1);
        Assert.True(Likeness(columns[0], columns[1]) > Likeness(columns[0], columns[2]));
    }

    // Square of the correlation.
    private static double Likeness(double[] one, double[] other)
    {
        double cross = one.Zip(other).Sum(pair => (pair.First - one.Average()) * (pair.Second - other.Average()));
        return cross * cross / one.Sum(value => Math.Pow(value - one.Average(), 2)) / other.Sum(value => Math.Pow(value - other.Average(), 2));
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static string Text(byte level) => level.ToString(CultureInfo.InvariantCulture);

    private List<string[]> Rows(string title)
    {
        IElement data = Data(title);
        return data.TagName == "A"
            ? [.. Csv(data).Skip(1)]
            : [.. data.QuerySelectorAll("tbody tr").Select(row => row.QuerySelectorAll("td").Select(cell => cell.TextContent).ToArray())];
    }

    private List<string> Heads(string title)
    {
        IElement data = Data(title);
        return data.TagName == "A" ? [.. Csv(data).First()] : [.. data.QuerySelectorAll("th").Select(head => head.TextContent)];
    }

    // The data of a picture follows its heading: a table, or a file where it is long.
    private IElement Data(string title)
    {
        IElement at = _page.QuerySelectorAll("h3").First(head => head.TextContent.StartsWith(title, StringComparison.Ordinal) && head.NextElementSibling?.TagName == "FIGURE");
        IElement data = at.NextElementSibling!.NextElementSibling!;
        return data.QuerySelector("a[download]") ?? data;
    }

    private static IEnumerable<string[]> Csv(IElement link)
    {
        string text = Encoding.UTF8.GetString(Convert.FromBase64String(link.GetAttribute("href")!.Split("base64,")[1]));
        using StringReader reader = new(text);
        using Microsoft.VisualBasic.FileIO.TextFieldParser parser = new(reader) { Delimiters = [","], HasFieldsEnclosedInQuotes = true, TrimWhiteSpace = false };
        while (!parser.EndOfData)
        {
            yield return parser.ReadFields()!;
        }
    }

    /// <summary>The report on Harbour Hall, made once.</summary>
    public sealed class Hall : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

        public Hall()
        {
            const string hall = "captures/harbour-hall/";
            string file = Path.Combine(_folder, "report.html");
            Assert.Equal("", ProgramRun.Of("report", hall + "soundcheck.pcapng", hall + "stage-left.vcd", "--patch", hall + "patch.csv", "--unit", "LX1-6", "--trace", hall + "lx1-6-trace.csv", "--utc", "-o", file).Error);
            Page = new HtmlParser().ParseDocument(File.ReadAllText(file));
        }

        public IDocument Page { get; }

        public void Dispose()
        {
            Page.Dispose();
            Directory.Delete(_folder, recursive: true);
        }
    }
}
