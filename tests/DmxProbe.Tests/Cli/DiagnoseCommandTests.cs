using System.Text.Json;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.HarbourHall;

namespace DmxProbe.Tests.Cli;

/// <summary><c>diagnose</c> on Harbour Hall, each fault alone and none, and what it says of inputs that do not serve.</summary>
public sealed class DiagnoseCommandTests : IDisposable
{
    private const string Hall = "captures/harbour-hall/";
    private const string Capture = Hall + "soundcheck.pcapng";
    private const string Sheet = Hall + "patch.csv";
    private const string Trace = Hall + "lx1-6-trace.csv";
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-diagnose-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void A_capture_of_one_frame_is_too_short_to_tell_and_its_cut_is_said()
    {
        string cut = Path.Combine(_folder.FullName, "cut.pcapng");
        File.WriteAllBytes(cut, File.ReadAllBytes(Capture)[..1000]);
        ProgramRun run = ProgramRun.At(100_000, "diagnose", cut, "--patch", Sheet, "--all");
        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.StartsWith("Too short to tell: 0 s of network", run.Output, StringComparison.Ordinal);
        Assert.Contains($" {cut} ends early", run.Output.Split('\n')[0], StringComparison.Ordinal);
        Assert.DoesNotContain("obody sends universe", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("two senders at the same priority: No", run.Output, StringComparison.Ordinal);
        Assert.Contains("A longer capture (3 s or more) would tell", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void In_a_capture_too_short_to_tell_the_check_is_to_capture_again()
    {
        string cut = Path.Combine(_folder.FullName, "cut.pcapng");
        File.WriteAllBytes(cut, File.ReadAllBytes(Capture)[..1000]);
        ProgramRun run = ProgramRun.At(100_000, "diagnose", cut, "--patch", Sheet, "--bad", "LX1-6");
        Assert.Contains("Check     Capture again, for 3 s or more.", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Check     Set its macro", run.Output, StringComparison.Ordinal);
        Assert.Contains("in one packet (", ProgramRun.At(100_000, "survey", cut).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_single_unit_that_nobody_sends_to_hears_nothing()
    {
        string sheet = Path.Combine(Night(HarbourHallFaults.None), "moved.csv");
        File.WriteAllText(sheet, File.ReadAllText(Sheet).Replace("LX1-6,led-wash,10 slot,1,61", "LX1-6,led-wash,10 slot,9,61", StringComparison.Ordinal));
        Assert.Contains("1 unit of it hears nothing", ProgramRun.At(100_000, "diagnose", Capture, "--patch", sheet, "--bad", "LX1-6").Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("burning smell", "Stop: this may be a fire or a live part.")]
    [InlineData("hanging loose", "Stop: something may fall.")]
    public void What_can_hurt_is_answered_before_everything_and_nothing_is_raised(string said, string first)
    {
        ProgramRun run = ProgramRun.At(100_000, "diagnose", Capture, "--patch", Sheet, "--bad", "LX1-6", "--said", said, "--all");
        Assert.StartsWith(first, run.Output, StringComparison.Ordinal);
        Assert.Contains("Only once it is safe, from what was captured: LX1-6", run.Output, StringComparison.Ordinal);
        Assert.Contains("Check     Look from a safe distance; touch, raise and switch on nothing.", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Raise dimmer", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Move pan", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("The rest that only a person can see", run.Output, StringComparison.Ordinal);

        JsonElement page = Json("diagnose", Capture, "--patch", Sheet, "--bad", "LX1-6", "--said", said);
        Assert.StartsWith(first, page.GetProperty("safety").GetString(), StringComparison.Ordinal);
        Assert.StartsWith(first, page.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains("licensed people", page.GetProperty("cautions")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Words_that_hurt_nobody_leave_the_safety_field_empty() =>
        Assert.Equal(JsonValueKind.Null, Json("diagnose", Capture, "--patch", Sheet, "--bad", "HZ-1", "--said", "haze machine does not follow").GetProperty("safety").ValueKind);

    [Fact]
    public void A_unit_that_hears_another_universe_is_not_only_set_to_its_address()
    {
        ProgramRun run = ProgramRun.At(100_000, "diagnose", Capture, "--patch", Sheet, "--bad", "LX3-1", "--trace", Trace);
        Assert.Contains("Do        First bring LX3-1 to universe 2 (sACN 2): plug its line (chain back) into the output of universe 2", run.Output, StringComparison.Ordinal);
        Assert.Contains("The address alone would make it read 1.101, on top of DR-1", run.Output, StringComparison.Ordinal);
        Assert.Contains("proven    on the line of another universe.", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_capture_cut_later_is_judged_by_what_was_read_and_is_not_clean()
    {
        string night = Night(HarbourHallFaults.None);
        string cut = Path.Combine(_folder.FullName, "tonight.pcapng");
        byte[] whole = File.ReadAllBytes(night + "soundcheck.pcapng");
        File.WriteAllBytes(cut, whole[..(whole.Length / 2)]);
        ProgramRun run = ProgramRun.At(100_000, "diagnose", Path.GetRelativePath(Environment.CurrentDirectory, cut), "--patch", night + "patch.csv");
        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.Contains("tonight.pcapng ends early", run.Output.Split('\n')[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_frame_of_levels_nothing_is_excluded_that_shows_in_levels()
    {
        JsonElement page = Json("diagnose", "captures/rdm/stage-left.pcapng");
        HashSet<string?> excluded = [.. page.GetProperty("excluded").EnumerateArray().Select(cause => cause.GetProperty("id").GetString())];
        Assert.DoesNotContain("equal-priority", excluded);
        Assert.DoesNotContain("alternate-start-code", excluded);
        Assert.DoesNotContain("packet-loss", excluded);
        Assert.DoesNotContain("output-without-sender", excluded);
        Assert.Contains("rdm-identity-twice", excluded); // RDM is there
    }

    [Fact]
    public void Rdm_alone_tells_the_bad_unit_as_the_check_of_the_sheet_does()
    {
        ProgramRun run = ProgramRun.At(100_000, "diagnose", "captures/rdm/stage-left.pcapng", "--patch", Sheet, "--bad", "LX1-6");
        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.StartsWith("LX1-6 is at 1.061 on the sheet; the RDM device 7FF0:00000106, which may be it, reads 1.016 (10 slots): digits swapped.", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_of_another_show_is_asked_about_first()
    {
        string sheet = Path.Combine(_folder.FullName, "other.csv");
        File.WriteAllText(sheet, "unit,type,mode,universe,address\nA1,par,4,7,1\nA2,par,4,8,10\n");
        foreach (string[] more in new string[][] { [], ["--bad", "A1"] })
        {
            ProgramRun run = ProgramRun.At(100_000, ["diagnose", Capture, "--patch", sheet, .. more]);
            Assert.Equal((1, ""), (run.Code, run.Error));
            Assert.StartsWith("Is this the sheet of this show? None of its universes (7 and 8) is sent in this capture", run.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Swapped_digits_alone_are_named_from_the_light()
    {
        string night = Night(HarbourHallFaults.DigitsSwapped);
        ProgramRun run = ProgramRun.Of("diagnose", night + "soundcheck.pcapng", "--patch", night + "patch.csv", "--bad", "LX1-6", "--trace", night + "lx1-6-trace.csv");
        Assert.Equal("", run.Error);
        Assert.Equal(1, run.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("The wire carries LX1-6", run.Output, StringComparison.Ordinal);
    }

    // A line recording begins at time 0: it must not move the moment from which the trace counts its seconds.
    [Theory]
    [InlineData("soundcheck.pcapng", "stage-left.vcd")]
    [InlineData("stage-left.vcd", "soundcheck.pcapng")]
    public void A_line_recording_beside_the_capture_leaves_the_light_where_it_was(string first, string second)
    {
        string[] asked = ["--patch", Sheet, "--bad", "LX1-6", "--trace", Trace];
        ProgramRun run = ProgramRun.Of(["diagnose", Hall + first, Hall + second, .. asked]);
        Assert.Equal("", run.Error);
        Assert.Equal(1, run.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.\n", run.Output, StringComparison.Ordinal);
        string[] causes = [.. Json(["diagnose", Hall + first, Hall + second, .. asked]).GetProperty("causes").EnumerateArray().Select(cause => cause.GetProperty("id").GetString()!)];
        Assert.Equal("digits-swapped", causes[0]);
        Assert.Contains("mark-after-break-short", causes);
    }

    [Fact]
    public void The_old_laptop_alone_is_named_from_the_network()
    {
        string night = Night(HarbourHallFaults.OldLaptop);
        JsonElement page = Json("diagnose", night + "soundcheck.pcapng", "--patch", night + "patch.csv", "--bad", "LX2-1,LX3-2", "--said", "they flicker");
        Assert.Equal("equal-priority", page.GetProperty("causes")[0].GetProperty("id").GetString());
        Assert.Equal("contested", page.GetProperty("firstFork")[0].GetProperty("fork").GetString());
        Assert.Contains("old laptop", page.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal("flickers", page.GetProperty("symptom").GetProperty("id").GetString());
    }

    [Fact]
    public void The_short_mark_alone_is_named_from_the_line()
    {
        string night = Night(HarbourHallFaults.ShortMark);
        JsonElement page = Json("diagnose", night + "soundcheck.pcapng", night + "stage-left.vcd", "--patch", night + "patch.csv", "--bad", "LX1-1,LX1-2,LX1-3,LX1-4,LX1-5,LX1-6");
        Assert.Equal("mark-after-break-short", page.GetProperty("causes")[0].GetProperty("id").GetString());
        Assert.Single(page.GetProperty("causes").EnumerateArray(), cause => cause.GetProperty("severity").GetString() == "fault");
        Assert.Equal("chain", page.GetProperty("shared")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public void The_healthy_hall_has_no_fault_and_says_what_is_excluded_and_what_cannot_be()
    {
        string night = Night(HarbourHallFaults.None);
        foreach (int width in new[] { 80, 120 })
        {
            ProgramRun run = ProgramRun.At(width, "diagnose", night + "soundcheck.pcapng", night + "stage-left.vcd", "--patch", night + "patch.csv", "--utc");
            Assert.Equal("", run.Error);
            Assert.Equal(0, run.Code);
            Golden.Matches($"diagnose-healthy-{width}", run.Output);
        }
    }

    // The healthy light's trace does not suffice for a claim of locate (measured); nothing else may be accused for it.
    [Fact]
    public void A_light_that_reads_what_the_sheet_says_is_not_accused()
    {
        string night = Night(HarbourHallFaults.None);
        ProgramRun run = ProgramRun.At(100_000, "diagnose", night + "soundcheck.pcapng", "--patch", night + "patch.csv", "--bad", "LX1-6", "--trace", night + "lx1-6-trace.csv");
        Assert.Equal(0, run.Code);
        Assert.StartsWith("LX1-6: no fault found in what is sent: the wire carries it", run.Output, StringComparison.Ordinal);
        Assert.Contains("Not enough evidence yet", run.Output, StringComparison.Ordinal);
        Assert.Contains("The likeliest place is 1.061, as the sheet says.", run.Output, StringComparison.Ordinal);
    }

    // The old laptop on sACN 2 is a fault as well, but not that of a unit whose universe nobody sends.
    [Fact]
    public void A_unit_of_a_universe_that_nobody_sends_is_told_that_first()
    {
        string night = Night(HarbourHallFaults.OldLaptop);
        string sheet = Path.Combine(night, "other.csv");
        File.WriteAllText(sheet, File.ReadAllText(night + "patch.csv").Replace("10 slot,1,", "10 slot,11,", StringComparison.Ordinal).Replace("16 slot,2,", "16 slot,12,", StringComparison.Ordinal).Replace("10 slot,2,", "10 slot,12,", StringComparison.Ordinal).Replace("2 slot,2,", "2 slot,12,", StringComparison.Ordinal));
        ProgramRun run = ProgramRun.At(100_000, "diagnose", night + "soundcheck.pcapng", "--patch", sheet, "--bad", "LX1-6");
        Assert.StartsWith("LX1-6: most likely, nobody sends universe 11 of the sheet", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_unit_without_a_chart_is_named_once()
    {
        string night = Night(HarbourHallFaults.None);
        string sheet = Path.Combine(night, "nochart.csv");
        File.WriteAllText(sheet, File.ReadAllText(night + "patch.csv").Replace("led-wash", "nochart", StringComparison.Ordinal));
        ProgramRun run = ProgramRun.At(100_000, "diagnose", night + "soundcheck.pcapng", "--patch", sheet, "--bad", "LX1-6");
        Assert.StartsWith("LX1-6: there is no chart for type 'nochart'", run.Output, StringComparison.Ordinal);
        Assert.Contains("Do        Add the chart, or correct the type", run.Output, StringComparison.Ordinal);
    }

    // A recording of 2.5 s in which nothing moves says nothing of the unit: it is to be worked, not looked at.
    [Fact]
    public void A_unit_that_stands_still_on_the_wire_is_to_be_worked_while_it_is_captured_again()
    {
        string night = Night(HarbourHallFaults.None);
        ProgramRun run = ProgramRun.At(100_000, "diagnose", night + "stage-left.vcd", "--patch", night + "patch.csv", "--map", "1=line:A", "--bad", "LX1-1");
        Assert.Contains("Check     Work LX1-1 at the controller", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("LX1-66", "the sheet has no unit 'LX1-66'; did you mean 'LX1-6'")]
    [InlineData("LX1-6,,nobody", "the sheet has no unit 'nobody'")]
    [InlineData("\u001b[31m", "the sheet has no unit '\\u001b[31m'")]
    [InlineData(" , ", "--bad: expected names of units, as in --bad LX1-6,LX1-7, found none")]
    [InlineData("-1", "the sheet has no unit '-1'")]
    public void A_unit_that_is_not_on_the_sheet_is_refused(string bad, string sentence) =>
        Assert.StartsWith(sentence, ProgramRun.Of("diagnose", Capture, "--patch", Sheet, "--bad", bad).Refusal(), StringComparison.OrdinalIgnoreCase);

    [Fact]
    public void Bad_units_without_a_sheet_are_refused() =>
        Assert.Equal("--bad names units of a patch sheet, and none is given; name it with --patch.", ProgramRun.Of("diagnose", Capture, "--bad", "LX1-6").Refusal());

    // What to do about it is not to give a light, which was given.
    [Fact]
    public void A_light_that_hardly_moves_leaves_the_address_open_and_more_of_it_would_tell()
    {
        string trace = Path.Combine(_folder.FullName, "still.csv");
        File.WriteAllText(trace, "time,level\n" + string.Concat(Enumerable.Range(0, 900).Select(t => FormattableString.Invariant($"{t / 30.0:0.000},{0.3 + (0.001 * (t % 7)):0.000}\n"))));
        string text = ProgramRun.At(100_000, "diagnose", Capture, "--patch", Sheet, "--bad", "LX1-6", "--trace", trace).Output;
        Assert.Contains("Not enough evidence yet to say what LX1-6 reads", text, StringComparison.Ordinal);
        Assert.Contains("More of the light than was measured (a longer or nearer --trace) would tell 16", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_of_several_units_is_refused() =>
        Assert.StartsWith("--trace is the light of one unit: expected --patch and one unit after --bad, found 2 units", ProgramRun.Of("diagnose", Capture, "--patch", Sheet, "--bad", "LX1-1,LX1-6", "--trace", Trace).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_live_input_with_a_trace_is_refused() =>
        Assert.StartsWith("--trace needs the capture twice", ProgramRun.Of("diagnose", "net", "--patch", Sheet, "--bad", "LX1-6", "--trace", Trace).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Too_long_a_complaint_is_refused() =>
        Assert.StartsWith("--said: expected a few words, at most 500 characters, found 501", ProgramRun.Of("diagnose", Capture, "--said", new string('x', 501)).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void What_was_said_is_shown_without_its_control_characters()
    {
        ProgramRun run = ProgramRun.Of("diagnose", Capture, "--said", "\u001b]0;x\u0007 boo");
        Assert.DoesNotContain('\u001b', run.Output);
        Assert.Contains("no entry of the symptom index fits", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_sheet_the_network_alone_is_judged()
    {
        JsonElement page = Json("diagnose", Capture);
        Assert.Equal("equal-priority", page.GetProperty("causes")[0].GetProperty("id").GetString());
        Assert.Equal(["network", "levels"], page.GetProperty("inputs").EnumerateArray().Select(each => each.GetString()));
    }

    [Fact]
    public void A_line_alone_does_not_claim_that_universes_are_missing()
    {
        JsonElement page = Json("diagnose", Hall + "stage-left.vcd", "--patch", Sheet, "--bad", "LX1-1");
        Assert.DoesNotContain(page.GetProperty("causes").EnumerateArray(), cause => cause.GetProperty("id").GetString() == "universe-not-sent");
        Assert.Equal("cannotTell", page.GetProperty("firstFork")[0].GetProperty("fork").GetString());
    }

    [Theory]
    [InlineData("captures/harbour-hall/nothing.pcapng")]
    [InlineData("captures/harbour-hall/patch.csv")]
    public void An_input_that_is_none_is_refused(string input) => Assert.Equal(2, ProgramRun.Of("diagnose", input, "--patch", Sheet).Code);

    // What the far side lost of 590 packets of sACN 2: every 25th, by the numbers that are missing there.
    [Fact]
    public void Two_places_of_one_moment_say_what_the_way_between_loses()
    {
        string far = Path.Combine(_folder.FullName, "gateway.pcap");
        File.WriteAllBytes(far, Thinned(File.ReadAllBytes(Path.Combine(Places.Repository, Capture)), every: 25));
        JsonElement page = Json("diagnose", Capture, far, "--patch", Sheet, "--bad", "LX2-1,LX2-2");
        JsonElement[] causes = [.. page.GetProperty("causes").EnumerateArray()];
        Assert.Contains(causes, cause => cause.GetProperty("id").GetString() == "lost-on-the-way" && cause.GetProperty("severity").GetString() == "fault");
        // Read as one they would be repeated packets.
        Assert.DoesNotContain(causes, cause => cause.GetProperty("id").GetString() == "repeated-packets");
        Assert.Contains("twoTaps", page.GetProperty("inputs").EnumerateArray().Select(each => each.GetString()));

        JsonElement same = Json("diagnose", Capture, Capture, "--patch", Sheet);
        Assert.DoesNotContain(same.GetProperty("causes").EnumerateArray(), cause => cause.GetProperty("group").GetString() == "link");
        Assert.Contains(same.GetProperty("excluded").EnumerateArray(), cause => cause.GetProperty("id").GetString() == "lost-on-the-way");
    }

    // The stage left gateway's line is universe 1 of the sheet.
    [Fact]
    public void The_units_on_a_line_are_judged_where_a_person_says_which_universe_it_is()
    {
        JsonElement page = Json("diagnose", Hall + "stage-left.vcd", "--patch", Sheet, "--map", "1=line:A", "--bad", "LX1-6");
        Assert.NotEqual("cannotTell", page.GetProperty("firstFork")[0].GetProperty("fork").GetString());
        Assert.Contains("levels", page.GetProperty("inputs").EnumerateArray().Select(each => each.GetString()));
        Assert.DoesNotContain(page.GetProperty("cannotTell").EnumerateArray(), cause => cause.GetProperty("id").GetString() == "strobe-left-on" && cause.GetProperty("missing").EnumerateArray().Any(each => each.GetString() == "levels"));

        string text = ProgramRun.Of("diagnose", Hall + "stage-left.vcd", "--patch", Sheet, "--bad", "LX1-6").Output;
        Assert.Contains("--map 1=line:A", text.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    // A classic capture file of every packet of a pcapng but each so-manieth one with a sequence number.
    private static byte[] Thinned(byte[] pcapng, int every)
    {
        using MemoryStream output = new();
        using BinaryWriter pcap = new(output);
        pcap.Write(0xA1B23C4Du);
        pcap.Write((ushort)2);
        pcap.Write((ushort)4);
        pcap.Write(new byte[8]);
        pcap.Write(65_535);
        pcap.Write(1);
        int count = 0;
        for (int at = 0; at + 12 <= pcapng.Length; at += BitConverter.ToInt32(pcapng, at + 4))
        {
            if (BitConverter.ToUInt32(pcapng, at) != 6)
            {
                continue;
            }

            ulong time = ((ulong)BitConverter.ToUInt32(pcapng, at + 12) << 32) | BitConverter.ToUInt32(pcapng, at + 16);
            int length = BitConverter.ToInt32(pcapng, at + 20);
            if (++count % every != 0 || length < 400)
            {
                pcap.Write((uint)(time / 1_000_000_000));
                pcap.Write((uint)(time % 1_000_000_000));
                pcap.Write(length);
                pcap.Write(length);
                pcap.Write(pcapng, at + 28, length);
            }
        }

        return output.ToArray();
    }

    private static JsonElement Json(params string[] args)
    {
        ProgramRun run = ProgramRun.Of([.. args, "--json"]);
        Assert.Equal("", run.Error);
        return JsonDocument.Parse(run.Output).RootElement;
    }

    private string Night(HarbourHallFaults faults)
    {
        foreach ((string name, byte[] bytes) in HarbourHallFiles.Make(faults))
        {
            string path = Path.Combine([_folder.FullName, .. name.Split('/')]);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, bytes);
        }

        return Path.Combine(_folder.FullName, HarbourHallFiles.Folder) + Path.DirectorySeparatorChar;
    }

    // LX1-6 is on Art-Net; the laptop sends sACN 2. Nobody is to switch it off for LX1-6's sake.
    [Fact]
    public void A_fault_on_another_universe_is_told_apart_and_without_advice()
    {
        string text = ProgramRun.Of("diagnose", "captures/harbour-hall/soundcheck.pcapng", "--patch", "captures/harbour-hall/patch.csv", "--bad", "LX1-6").Output;
        int elsewhere = text.IndexOf("Faults elsewhere on the rig, not what is wrong here", StringComparison.Ordinal);
        Assert.InRange(elsewhere, 1, text.IndexOf("two senders at the same priority 100", StringComparison.Ordinal));
        Assert.DoesNotContain("Switch off the sender", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Causes, the one to act on first", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_fault_that_may_or_may_not_be_on_its_way_is_said_to_be_so()
    {
        string text = ProgramRun.At(1_000, "diagnose", "captures/harbour-hall/soundcheck.pcapng", "captures/harbour-hall/stage-left.vcd", "--patch", "captures/harbour-hall/patch.csv", "--bad", "LX1-6").Output;
        Assert.StartsWith("LX1-6: the one fault to act on may or may not be on its way, which these inputs do not say: line A", text, StringComparison.Ordinal);
    }
}
