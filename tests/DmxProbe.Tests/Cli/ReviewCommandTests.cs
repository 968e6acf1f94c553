using System.Text.Json;

using DmxProbe.Capture.Files;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Tests.Cli;

public sealed class ReviewCommandTests : IDisposable
{
    private const string Soundcheck = "captures/harbour-hall/soundcheck.pcapng";

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-review-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_moment_of_a_folder_is_that_of_the_capture_it_was_recorded_from()
    {
        ProgramRun.Of("record", Soundcheck, "-o", _folder, "--segment", "20s");
        string[] question = ["--universe", "sacn:2", "--at", "45", "--json"];
        JsonElement folder = Json(["review", _folder, .. question]);
        JsonElement file = Json(["review", Soundcheck, .. question]);
        Assert.Equal(3, folder.GetProperty("reviewFilesMade").GetInt32());
        Assert.Equal(file.GetProperty("levels").GetRawText(), folder.GetProperty("levels").GetRawText());
        Assert.Equal(0, Json(["review", _folder, .. question]).GetProperty("reviewFilesMade").GetInt32());
    }

    [Fact]
    public void The_last_level_of_a_history_is_the_level_at_that_moment()
    {
        ShowPlan plan = new() { Universes = 2, Seconds = 30, MeanGap = 2 };
        RecordedShow.Record(new CuedShow(plan), _folder, Duration.FromSeconds(10));
        JsonElement moment = Json("review", _folder, "--universe", "2", "--at", "25");
        JsonElement history = Json("review", _folder, "--universe", "2", "--slot", "14", "--to", "25");
        JsonElement changes = history.GetProperty("history")[0].GetProperty("changes");
        Assert.True(changes.GetArrayLength() > 1);
        Assert.Equal(moment.GetProperty("levels")[0].GetProperty("slots")[13].GetInt32(), changes[changes.GetArrayLength() - 1].GetProperty("level").GetInt32());
    }

    [Fact]
    public void A_universe_that_nobody_sent_then_is_said_with_when_it_was_sent()
    {
        ProgramRun run = ProgramRun.Of("review", "captures/net/gen_sacn_two_sources_terminate.pcap");
        Assert.Equal(0, run.Code);
        ShowPlan plan = new() { Universes = 1, Seconds = 5 };
        RecordedShow.Record(new CuedShow(plan), _folder, Duration.FromSeconds(60));
        plan = new() { Universes = 1, Seconds = 5, Start = plan.Start + Duration.FromSeconds(100) };
        RecordedShow.Record(new CuedShow(plan), _folder, Duration.FromSeconds(60));
        ProgramRun silent = ProgramRun.Of("review", _folder, "--universe", "sacn:1", "--at", "50");
        Assert.Equal(1, silent.Code);
        Assert.StartsWith("Nobody sent sACN 1 at ", silent.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_moment_is_named_by_a_mark_or_by_a_cue()
    {
        ShowPlan plan = new() { Universes = 2, Seconds = 60, ShortestGap = 6, MeanGap = 2 };
        RecordedShow.Record(new CuedShow(plan), _folder, Duration.FromSeconds(20));
        IReadOnlyList<(double At, double Fade)> sent = new CueList(plan).Cues;
        JsonElement listed = Json("review", _folder, "--moments");
        JsonElement[] cues = [.. listed.GetProperty("cues").EnumerateArray()];
        Assert.InRange(cues.Length, 3, sent.Count);
        Assert.Empty(listed.GetProperty("marks").EnumerateArray());
        string stands = cues[2].GetProperty("stands").GetString()!;
        JsonElement byCue = Json("review", _folder, "--universe", "2", "--at", "cue:3");
        Assert.Equal(stands, byCue.GetProperty("at").GetString());
        Assert.Equal(Json("review", _folder, "--universe", "2", "--at", stands).GetProperty("levels").GetRawText(), byCue.GetProperty("levels").GetRawText());
        string refused = ProgramRun.Of("review", _folder, "--universe", "2", "--at", "cue:99").Refusal();
        Assert.Contains($"expected cue:1 to cue:{cues.Length}", refused, StringComparison.Ordinal);
        Assert.Contains("no mark was made", ProgramRun.Of("review", _folder, "--universe", "2", "--at", "mark:1").Refusal(), StringComparison.Ordinal);

        string marked = Directory.CreateDirectory(Path.Combine(_folder, "marked")).FullName;
        using (ICaptureSource soundcheck = CaptureFile.Open(Soundcheck))
        using (Recorder recorder = new(new RecorderSettings { Folder = marked, Clock = new ShowClock() }))
        using (RecordingSource recording = new(soundcheck, recorder))
        {
            recorder.Mark("strobe stuck");
            recorder.Mark("strobe again");
            while (recording.Read(out _) == ReadStatus.Record)
            {
                // All of it.
            }

            recorder.Finish();
        }

        JsonElement marks = Json("review", marked, "--moments").GetProperty("marks");
        Assert.Equal(2, marks.GetArrayLength());
        JsonElement byWords = Json("review", marked, "--universe", "sacn:2", "--at", "mark:STUCK");
        JsonElement stuck = marks.EnumerateArray().Single(mark => mark.GetProperty("text").GetString() == "strobe stuck");
        Assert.Equal(stuck.GetProperty("time").GetString(), byWords.GetProperty("at").GetString());
        Assert.Contains("is in 2 marks", ProgramRun.Of("review", marked, "--universe", "sacn:2", "--at", "mark:strobe").Refusal(), StringComparison.Ordinal);
        Assert.Contains("mark:1 to mark:2", ProgramRun.Of("review", marked, "--universe", "sacn:2", "--at", "mark:fog").Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void With_a_sheet_levels_are_told_by_unit_and_function()
    {
        string[] sheet = ["--patch", "captures/harbour-hall/patch.csv"];
        JsonElement slots = Json("review", Soundcheck, "--universe", "sacn:2", "--at", "45").GetProperty("levels")[0].GetProperty("slots");
        string universe = ProgramRun.At(200, ["review", Soundcheck, "--universe", "sacn:2", "--at", "45", .. sheet]).Output;
        Assert.Contains("all slots at 0: ", universe, StringComparison.Ordinal);
        string unit = ProgramRun.At(200, ["review", Soundcheck, "--unit", "LX2-1", "--at", "45", .. sheet]).Output;
        Assert.Contains("LX2-1", unit, StringComparison.Ordinal);
        string history = ProgramRun.At(200, ["review", Soundcheck, "--unit", "LX2-1", .. sheet]).Output;
        Assert.StartsWith("sACN 2, slot 1 (LX2-1, Pan) from ", history, StringComparison.Ordinal);
        Assert.Contains("LX2-1, unchanged from ", history, StringComparison.Ordinal);
        string slot = ProgramRun.At(200, ["review", Soundcheck, "--universe", "sacn:2", "--slot", "1", "--at", "45", .. sheet]).Output;
        Assert.Matches(@"^sACN 2, slot 1 \([^,]+, [^)]+\) at ", slot);
        Assert.Contains($": {slots[0].GetInt32()} from ", slot, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--unit LX2-1 --at 3", "add --patch SHEET")]
    [InlineData("--unit NOPE --at 3 --patch captures/harbour-hall/patch.csv", "no unit 'NOPE'")]
    [InlineData("--unit LX1-6 --from 5 --to 3 --patch captures/harbour-hall/patch.csv", "--from 19:41:05.007 is later than --to 19:41:03.007")]
    [InlineData("--unit LX1-6 --at 20:00:00 --patch captures/harbour-hall/patch.csv", "2026-03-14 19:41:00 to 19:41:59 UTC, found 20:00:00.000")]
    [InlineData("--unit LX1-6 --at 3 --slot 1 --patch captures/harbour-hall/patch.csv", "the one or the other")]
    [InlineData("--unit LX1-6 --at 3 --map 9=sacn:9 --patch captures/harbour-hall/patch.csv", "universe 9 is not on the sheet, which has 1, 2, 3")]
    [InlineData("--moments --at 3", "takes no question")]
    [InlineData("--universe sacn:2 --at cue:0", "expected cue:1 to")]
    [InlineData("--universe sacn:2 --at cue:x", "expected cue:1 to")]
    [InlineData("--universe sacn:2 --at mark:", "no mark was made")]
    public void What_cannot_be_named_is_refused(string options, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of(["review", Soundcheck, .. options.Split(' ')]).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("--slot 513 --universe sacn:2", "--slot: expected 1 to 512")]
    [InlineData("--slot 0 --universe sacn:2", "--slot: expected 1 to 512")]
    [InlineData("--slot -3 --universe sacn:2", "--slot: expected 1 to 512")]
    [InlineData("--slot 5", "--universe")]
    [InlineData("--universe sacn:2", "--at TIME")]
    [InlineData("--universe sacn:99 --at 3", "sacn:2, sacn:3")]
    [InlineData("--universe nonsense --at 3", "found 'nonsense'")]
    [InlineData("--universe sacn:2 --at noon", "--at: expected seconds")]
    [InlineData("--universe sacn:2 --at 9999", "within the recording")]
    [InlineData("--universe sacn:2 --slot 1 --from 30 --to 10", "later than")]
    [InlineData("--universe sacn:2 --slot 1 --from 30 --at 10", "one or the other")]
    public void What_cannot_be_asked_is_refused(string options, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of(["review", Soundcheck, .. options.Split(' ')]).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_cut_file_is_answered_as_far_as_it_goes_and_said_to_be_cut()
    {
        string cut = Path.Combine(_folder, "cut.pcapng");
        File.WriteAllBytes(cut, File.ReadAllBytes(Soundcheck)[..300_000]);
        ProgramRun run = ProgramRun.At(400, "review", cut, "--universe", "sacn:2", "--at", "3");
        Assert.Contains("cut.pcapng: the file ends inside", run.Output, StringComparison.Ordinal);
        Assert.StartsWith("sACN 2 at ", run.Output, StringComparison.Ordinal);
        Assert.Equal(1, run.Code);
        Assert.Contains("cut.pcapng: the file ends inside", Json("review", cut).GetProperty("notes")[0].GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-")]
    [InlineData("net")]
    public void What_can_be_heard_once_only_is_refused(string input) =>
        Assert.Contains("record it first", ProgramRun.Of("review", input).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void What_is_no_recording_is_refused()
    {
        string file = Path.Combine(_folder, "text.pcapng");
        Assert.Contains("no recording", ProgramRun.Of("review", _folder).Refusal(), StringComparison.Ordinal);
        Assert.Contains("no such file", ProgramRun.Of("review", file).Refusal(), StringComparison.Ordinal);
        File.WriteAllText(file, "no capture");
        Assert.Contains("text", ProgramRun.Of("review", file).Refusal(), StringComparison.Ordinal);
        Assert.Contains("text", ProgramRun.Of("review", _folder).Refusal(), StringComparison.Ordinal);
    }

    // Stands within the soundcheck: a mark made now would not.
    private sealed class ShowClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 3, 14, 19, 41, 20, TimeSpan.Zero);
    }

    private static JsonElement Json(params string[] args)
    {
        ProgramRun run = ProgramRun.Of(args.Contains("--json") ? args : [.. args, "--json"]);
        Assert.Equal("", run.Error);
        return JsonDocument.Parse(run.Output).RootElement;
    }
}
