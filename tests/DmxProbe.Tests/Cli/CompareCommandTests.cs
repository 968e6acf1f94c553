using System.Text.Json;

using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Tests.Cli;

public sealed class CompareCommandTests : IDisposable
{
    private const string Soundcheck = "captures/harbour-hall/soundcheck.pcapng";
    private const long Second = 1_000_000_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-compare-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Two_recorded_nights_give_ten_lines_on_screen_and_twenty_in_json()
    {
        string last = Path.Combine(_folder, "friday");
        string tonight = Path.Combine(_folder, "saturday");
        RecordedShow.Record(new CuedShow(PlantedNights.Last), last, Duration.FromSeconds(600));
        RecordedShow.Record(new CuedShow(PlantedNights.Tonight), tonight, Duration.FromSeconds(600));
        string sheet = Path.Combine(_folder, "patch.csv");
        File.WriteAllText(sheet, ShowRig.Sheet(9));
        Directory.CreateDirectory(Path.Combine(_folder, "charts"));
        File.WriteAllText(Path.Combine(_folder, "charts", "spot.csv"), ShowRig.Chart);

        ProgramRun json = ProgramRun.Of("compare", last, tonight, "--patch", sheet, "--json");
        Assert.Equal(1, json.Code);
        JsonElement page = JsonDocument.Parse(json.Output).RootElement;
        Assert.Equal("nights", page.GetProperty("as").GetString());
        JsonElement[] differences = [.. page.GetProperty("differences").EnumerateArray()];
        Assert.Equal(20, differences.Length);
        Assert.Equal(0, page.GetProperty("differencesNotListed").GetInt32());
        Assert.Equal(
            PlantedNights.Planted.Select(planted => planted.Kind).Order(StringComparer.OrdinalIgnoreCase),
            differences.Select(each => each.GetProperty("kind").GetString()!).Order(StringComparer.OrdinalIgnoreCase),
            StringComparer.OrdinalIgnoreCase);

        ProgramRun text = ProgramRun.At(400, "compare", last, tonight, "--patch", sheet, "--utc");
        string[] lines = text.Output.Split('\n');
        Assert.Equal("Two nights, because their times lie apart (--as taps if they are of one moment)", lines[0]);
        Assert.StartsWith("Tonight differs from last night in 20 things", lines[4], StringComparison.Ordinal);
        Assert.Equal(10, lines.Skip(6).TakeWhile(line => !line.StartsWith("  and 10 more", StringComparison.Ordinal)).Count());
        Assert.Contains("U1-05 never moves tonight", text.Output, StringComparison.Ordinal);
        Assert.Contains("What to do next\n  sACN 8: see whether the controller still puts this universe out", text.Output, StringComparison.Ordinal);
        Assert.All(differences, each => Assert.NotEqual("", each.GetProperty("action").GetString()));

        ProgramRun turned = ProgramRun.At(400, "compare", tonight, last, "--patch", sheet, "--utc");
        Assert.Contains("is later than", turned.Output, StringComparison.Ordinal);

        ProgramRun same = ProgramRun.Of("compare", last, last, "--as", "nights");
        Assert.Equal(0, same.Code);
        Assert.StartsWith("Two nights, as --as says\n", same.Output, StringComparison.Ordinal);
        Assert.Contains("\n  Both are the same recording, so nothing can differ.\n\nTonight is as last night", same.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Nights_without_a_cue_in_common_are_not_called_the_same()
    {
        string last = Path.Combine(_folder, "friday");
        string tonight = Path.Combine(_folder, "saturday");
        ShowPlan plan = new() { Universes = 1, Seconds = 40, ConstantRate = true };
        RecordedShow.Record(new CuedShow(plan), last, Duration.FromSeconds(600));
        RecordedShow.Record(new CuedShow(plan with { Show = 2, Start = plan.Start + Duration.FromSeconds(86_400) }), tonight, Duration.FromSeconds(600));
        ProgramRun run = ProgramRun.At(400, "compare", last, tonight);
        Assert.Contains("so no levels were compared: is it the same show, and the same part of it? Universes, senders and figures are the same.", run.Output, StringComparison.Ordinal);
        Assert.Equal(2, run.Code);
    }

    [Fact]
    public void A_rate_that_a_sender_changed_on_all_universes_is_one_difference()
    {
        string last = Path.Combine(_folder, "friday");
        string tonight = Path.Combine(_folder, "saturday");
        ShowPlan plan = new() { Universes = 30, Seconds = 20, ConstantRate = true };
        RecordedShow.Record(new CuedShow(plan), last, Duration.FromSeconds(600));
        RecordedShow.Record(new CuedShow(plan with { RateHz = 30, Start = plan.Start + Duration.FromSeconds(86_400) }), tonight, Duration.FromSeconds(600));
        ProgramRun run = ProgramRun.At(400, "compare", last, tonight);
        Assert.Equal(1, run.Code);
        Assert.Contains("\n  whole night   sACN 1 to 30: 44.0 packets a second while it ran last night, 30.0 packets a second while it ran tonight\n", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wireless_link_that_froze_is_told_in_one_sentence()
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(1, 30_000_000)));
        ICaptureSource network = gateway.Run(30 * Second).Network;
        SimulatedLink link = new() { Freezes = [(3 * Second, 160_000_000), (12 * Second, 640_000_000)] };
        ICaptureSource receiver = link.Run(gateway.LinePackets);
        string near = Record(network, "near");
        string far = Record(receiver, "far");
        ProgramRun run = ProgramRun.At(400, "compare", near, far, "--utc");
        Assert.Equal(1, run.Code);
        Assert.StartsWith("Two taps of one moment, because their times overlap (--as nights if they are two nights)\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("Something is wrong behind the link: 2 freezes, the longest 6", run.Output, StringComparison.Ordinal);
        string sentence = run.Output.Split('\n').First(line => line.Contains("carries", StringComparison.Ordinal));
        Assert.Contains("carries sACN 1 of 'main'", sentence, StringComparison.Ordinal);
        Assert.Contains("it froze 2 times, longest 6", sentence, StringComparison.Ordinal);
        Assert.Contains("ms behind", sentence, StringComparison.Ordinal);
        Assert.Contains("What to do next\n  serial A: if it is a radio link", run.Output, StringComparison.Ordinal);
        ProgramRun turned = ProgramRun.At(400, "compare", far, near, "--utc");
        Assert.Contains("they may be the wrong way round (name the tap before the link first), or their clocks differ.", turned.Output, StringComparison.Ordinal);
        Assert.Contains("The second input shows changes before the first, so freezes, other levels and slots that differ are not told until the order is right.", turned.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("it froze", turned.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("came out", turned.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("in figures", turned.Output, StringComparison.Ordinal);
        Assert.Equal(1, turned.Code);
        JsonElement doubted = JsonDocument.Parse(ProgramRun.Of("compare", far, near, "--json").Output).RootElement.GetProperty("links")[0];
        Assert.True(doubted.GetProperty("leadMs").GetDouble() > 0);
        Assert.Equal((0, 0, 0), (doubted.GetProperty("freezes").GetArrayLength(), doubted.GetProperty("detours").GetArrayLength(), doubted.GetProperty("differingSlotCount").GetInt32()));
        JsonElement found = JsonDocument.Parse(ProgramRun.Of("compare", near, far, "--json").Output).RootElement.GetProperty("links")[0];
        Assert.Equal(2, found.GetProperty("freezes").GetArrayLength());
    }

    [Fact]
    public void A_capture_against_itself_has_nothing_wrong()
    {
        ProgramRun run = ProgramRun.Of("compare", Soundcheck, Soundcheck);
        Assert.Equal(0, run.Code);
        Assert.DoesNotContain("carries no universe", run.Output, StringComparison.Ordinal);
        Assert.Contains("sACN 2 of 'old laptop': its levels never changed, so latency and freezes cannot be told.", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("What to do next", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("captures/harbour-hall/patch.csv", Soundcheck, "text")]
    [InlineData(Soundcheck, "gone.pcapng", "no such file")]
    [InlineData(Soundcheck, "captures", "no recording")]
    public void What_cannot_be_compared_is_refused(string one, string other, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of("compare", one, other).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("--as days")]
    [InlineData("--clocks three")]
    [InlineData("--map 1=sacn:1")]
    [InlineData("--for -5s")]
    public void Options_that_do_not_serve_are_refused(string options) =>
        ProgramRun.Of(["compare", Soundcheck, Soundcheck, .. options.Split(' ')]).Refusal();

    private string Record(ICaptureSource source, string name) => RecordedShow.Segment(source, Path.Combine(_folder, name));
}
