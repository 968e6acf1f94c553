using System.Text.Json;

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

    private static JsonElement Json(params string[] args)
    {
        ProgramRun run = ProgramRun.Of(args.Contains("--json") ? args : [.. args, "--json"]);
        Assert.Equal("", run.Error);
        return JsonDocument.Parse(run.Output).RootElement;
    }
}
