using System.Text;
using System.Text.RegularExpressions;

using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Video;
using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>Holds docs/json.md and what is written together, both ways.</summary>
public partial class JsonDocumentationTests
{
    [Fact]
    public void Survey_is_documented_field_by_field() =>
        Agree("survey", stream => SurveyJson.Write(stream, FullSurvey.With()));

    [Fact]
    public void Inputs_are_documented_field_by_field() => Agree(
        "inputs",
        stream => InputsJson.Write(stream, [new InputListing("net:192.0.2.2", "network", "eth0", "", ["192.0.2.2/24"], true, false, 1000, "arrival", "")]));

    [Fact]
    public void Timing_is_documented_field_by_field() =>
        Agree("timing", stream => TimingJson.Write(stream, [FullSurvey.Timed], FullSurvey.Taps));

    [Fact]
    public void Record_is_documented_field_by_field() =>
        Agree("record", stream => RecordJson.Write(stream, new RecordedRun("tonight", 1, 2, 3, 4, 5, 6, 7, 8.5)));

    [Fact]
    public void Record_pack_is_documented_field_by_field() =>
        Agree("record pack", stream => PackJson.Write(stream, new PackResult("archive", "show", "recording", 1, 2, 3, 4, 5, ["a note"])));

    [Fact]
    public void Compare_is_documented_field_by_field() => Agree("compare", stream =>
    {
        UniverseId universe = new(UniverseProtocol.Sacn, 1);
        Timestamp time = Timestamp.FromUnixNanoseconds(1);
        SenderSummary sender = new() { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "desk", Address = "10.0.0.1", Addresses = [] };
        NightDifference difference = new() { Kind = NightDifferenceKind.Levels, Subjects = ["A"], LastNight = "x", Tonight = "y", Slots = [new NightSlotDifference(universe, 1, 2, 3)] };
        LinkComparison link = new()
        {
            Far = universe,
            FarSender = sender,
            Latency = new IntervalStatistics(1, default, default, default, default, default, default),
            Freezes = [new LinkFreeze(time, time, false)],
            Detours = [new LinkDetour(time, time, 1, "x")],
            DifferingSlots = [new CountOf(1, 1)],
        };
        CompareJson.Write(stream, [new ComparedInput("a", 1, time, time)], "because", [], new NightComparison(1, 1, 1, [difference, difference], 1, 0, ["a note"]), [link], 1);
    });

    [Fact]
    public void Review_is_documented_field_by_field() => Agree("review", stream =>
    {
        UniverseId universe = new(UniverseProtocol.Sacn, 1);
        SenderSummary sender = new() { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "desk", Address = "10.0.0.1", Addresses = [] };
        Timestamp time = Timestamp.FromUnixNanoseconds(1);
        ReviewJson.Write(stream, "tonight", [new ReviewStream(universe, sender)], ["a note"], new ReviewAnswer(
            time, time, 1, universe, 1, time, time, time, [new ReviewLevels(sender, [1], time, 100, false)], [new SlotSeries(sender, [new SlotLevelAt(time, 1)])]), [new MarkSummary(time, "a mark", 1)], [new NightCue(1, time, time, 1)]);
    });

    [Fact]
    public void Patch_check_is_documented_field_by_field() => Agree("patch check", stream =>
    {
        PatchReading reading = PatchReader.Read(new StringReader("unit,type,mode,universe,address,weight\nA,x,m,1,510,8\nB,x,m,1,510,8\nC,x,m,1,TBC,8\n"));
        ChartSet charts = new([new Chart("x", [new ChartMode("m", [new ChartSlot(1, "reset", SlotRole.Control, [])], 1)])]);
        Dictionary<int, UniverseId> map = new() { [1] = new UniverseId(UniverseProtocol.ArtNet, 0) };
        PatchJson.Write(stream, reading.Sheet!, map, PatchCheck.Check(reading.Sheet!, new ChartSet([])), reading.Recognition!, DangerousSlots.Of(reading.Sheet!, charts), Checked);
    });

    [Fact]
    public void Chart_show_is_documented_field_by_field() => Agree("chart show", stream =>
    {
        string csv = "mode,slot,function,from,to,meaning,when\nm,1,Dimmer,0,255,0 to 100%,\nm,2,Dimmer fine,0,255,,\nm,3,Red,0,255,,\nm,3,Red,0,255,,1:0-9\n";
        ChartJson.Write(stream, ChartReader.Read("x", new StringReader(csv)).Chart!, ["a note"]);
    });

    [Fact]
    public void Explain_is_documented_field_by_field() => Agree("explain", stream => ExplainJson.Write(stream, Explained.Dark, 12));

    [Fact]
    public void Explain_slot_is_documented_field_by_field() => Agree(
        "explain --slot",
        stream => SlotJson.Write(stream, Explained.Answer.Universe, 61, Explained.Answer.At, Explained.Answer, new Dictionary<int, SenderSummary> { [0] = Explained.Desk }, "it is 0"));

    [Fact]
    public void Explain_several_slots_is_documented_field_by_field() => Agree(
        "explain --slot of several slots or times",
        stream => SlotTableJson.Write(
            stream,
            [Explained.Answer],
            [(Explained.Answer.At, Explained.Answer.Universe, 1, 2)],
            new Dictionary<int, SenderSummary> { [0] = Explained.Desk },
            _ => "it is 0"));

    [Fact]
    public void Diagnose_is_documented_field_by_field() => Agree("diagnose", stream => DiagnoseJson.Write(stream, Diagnosed.Case(), Diagnoser.Run(Diagnosed.Case())));

    [Fact]
    public void Walk_is_documented_field_by_field() => Agree("walk", stream =>
    {
        WalkResult walked = Walked.Result();
        WalkJson.Write(stream, walked, WalkReview.Remarks(walked, [new WalkNote(Timestamp.MinValue, "B")]), [0], new Dictionary<int, UniverseId> { [1] = new UniverseId(UniverseProtocol.Sacn, 1) });
    });

    [Fact]
    public void Locate_is_documented_field_by_field() =>
        Agree("locate", stream => LocateJson.Write(stream, Located.Result, Located.About, Located.Answer));

    [Fact]
    public void Locate_of_several_units_is_documented_field_by_field() => Agree("locate --units", stream =>
    {
        UnitInRow unit = new("A", 1, 61, 0, Located.About.Question);
        RowFinding finding = new(RowFindingKind.ShiftedFrom, ["A"], new RowShift(0, 8), "B", 1, 0.99);
        TogetherResult result = new([new RowUnit(unit, Located.Result, Located.Result)], [finding], 0);
        LocateTogetherJson.Write(stream, result, [Located.About], [Located.Answer], [new RowStatement(finding, "From A on.", "Look.")], ["C: no light"]);
    });

    [Fact]
    public void Trace_from_video_is_documented_field_by_field() => Agree("trace from-video", stream =>
    {
        RegionMeter meter = new(new PictureRegion(0, 0, 1, 1), 1, 1, ToneCurve.Bt709);
        meter.Add([1, 2, 3], 0);
        VideoFacts facts = new(16, 16, 30, 2, ToneCurve.Bt709, null, false);
        VideoTrace trace = VideoTrace.Of(facts, [new PictureRegion(0, 0, 1, 1)], [meter], new PictureTimes(), ExposureDrift.Of(new SmallPictures(1, 1, 30), ToneCurve.Bt709));
        TraceJson.Write(stream, trace, null, "a.csv", "a.png", ["a caution"]);
    });

    [Fact]
    public void Report_is_documented_field_by_field() => Agree("report", stream => ReportJson.Write(stream, "report.html", 12, true, ["cut"]));

    [Fact]
    public void Export_is_documented_field_by_field() =>
        Agree("export", stream => ExportJson.Write(stream, "frames", "csv", "a.csv", 1, 2, ["cut"]));

    [Fact]
    public void Demo_is_documented_field_by_field() => Agree(
        "demo",
        stream => DemoJson.Write(stream, FullSurvey.With(), Located.Result, Located.About, Located.Answer, Diagnosed.Case(), Diagnoser.Run(Diagnosed.Case()), FullSurvey.Timed, [("q", "e", "f")]),
        also: "survey");

    private static RdmSheetResult Checked => new(
        [(new UniverseId(UniverseProtocol.Line, 0), 1, false)],
        [new UniverseId(UniverseProtocol.ArtNet, 3)],
        1,
        2,
        [new RdmRemark("rdm-address-differs", Severity.Fault, ["A"], "7FF0:00000001", "it reads 1.016", "set it")]);

    private static void Agree(string command, Action<Stream> write, string also = "")
    {
        using MemoryStream page = new();
        write(page);
        SortedSet<string> written = JsonPaths.Of(Encoding.UTF8.GetString(page.ToArray()));
        SortedSet<string> documented = Documented(command, also);
        Assert.NotEmpty(documented);
        Assert.Equal(["written, not documented:", .. written.Except(documented), "documented, not written:", .. documented.Except(written)], new[] { "written, not documented:", "documented, not written:" });
    }

    /// <summary>The first cells of the tables under the command's heading and under "every page".</summary>
    private static SortedSet<string> Documented(string command, string also)
    {
        SortedSet<string> fields = new(StringComparer.Ordinal);
        bool inside = false;
        foreach (string line in File.ReadLines(Path.Combine(Places.Repository, "docs", "json.md")))
        {
            if (line.StartsWith("## ", StringComparison.Ordinal))
            {
                inside = line[3..] == command || line[3..] == also || line[3..] == "every page";
            }

            if (inside && Field().Match(line) is { Success: true } match)
            {
                fields.Add(match.Groups[1].Value);
            }
        }

        return fields;
    }

    [GeneratedRegex(@"^\| `([^`]+)` \|")]
    private static partial Regex Field();
}
