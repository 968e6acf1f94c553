using System.Buffers.Binary;
using System.Text.Json;

namespace DmxProbe.Tests.Cli;

/// <summary><c>locate</c> by notes, taps and guided questions on the built-in soundcheck: LX1-6 reads 1.016.</summary>
public sealed class AskCommandTests : IDisposable
{
    private const string Hall = "captures/harbour-hall/";
    private static readonly string[] Locate = ["locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6"];
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-ask-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData("ranges")]
    [InlineData("faders:8")]
    [InlineData("faders:24")]
    public void Guided_questions_find_the_address_and_end_on_a_confirming_look(string controller)
    {
        Stage stage = new(16) { Faders = controller == "faders:24" ? 24 : 8 };
        ProgramRun run = ProgramRun.Asked(stage.Answer, [.. Locate, "--ask", "--controller", controller]);
        Assert.Equal("", run.Error);
        Assert.Equal(1, run.Code);
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  Confirmed  LX1-6 lit in the confirming look", run.Output, StringComparison.Ordinal);
        Assert.Contains("the confirming look: To confirm:", run.Output, StringComparison.Ordinal);
        Assert.InRange(stage.Questions, 4, 40);
        Assert.DoesNotContain("2.201", Asked(run), StringComparison.Ordinal); // the hazer
    }

    [Theory]
    [InlineData("ranges")]
    [InlineData("faders:8")]
    public void A_light_that_reads_what_the_sheet_says_is_confirmed_too(string controller)
    {
        ProgramRun run = ProgramRun.Asked(new Stage(61).Answer, [.. Locate, "--ask", "--controller", controller]);
        Assert.Equal(0, run.Code);
        Assert.Contains("LX1-6 reads 1.061, as the sheet says.", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ranges", 16)]
    [InlineData("ranges", 61)]
    [InlineData("faders:8", 16)]
    [InlineData("faders:8", 61)]
    public void At_a_controller_that_holds_everything_else_at_0_the_light_is_found_as_well(string controller, int address)
    {
        // Slots that a look rests on are named in its question, and this person leaves only those as they stood.
        Stage stage = new(address) { IsElseAtZero = true };
        ProgramRun run = ProgramRun.Asked(stage.Answer, [.. Locate, "--ask", "--controller", controller]);
        Assert.Equal("", run.Error);
        Assert.Contains(address == 16 ? "LX1-6 reads 1.016, not 1.061" : "LX1-6 reads 1.061, as the sheet says.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  Confirmed  LX1-6 lit in the confirming look", run.Output, StringComparison.Ordinal);
        Assert.InRange(stage.Questions, 4, 25);
    }

    [Fact]
    public void One_wrong_answer_does_not_lead_astray()
    {
        for (int lie = 1; lie <= 4; lie++)
        {
            Stage stage = new(16) { Lie = lie };
            ProgramRun run = ProgramRun.Asked(stage.Answer, [.. Locate, "--ask", "--controller", "ranges"]);
            Assert.Contains("LX1-6 reads 1.016", run.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void With_existing_looks_only_what_the_trace_found_is_claimed_and_no_look_that_lights_the_whole_rig_confirms_it()
    {
        ProgramRun run = ProgramRun.Asked(Stage.OfLooks(_ => "lit"), [.. Locate, "--trace", Hall + "lx1-6-trace.csv", "--ask", "--controller", "looks"]);
        Assert.Equal("", run.Error);
        Assert.Equal(1, run.Code);
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Confirmed", run.Output, StringComparison.Ordinal);
        Assert.Contains("  Confirm   To confirm: from a dark stage raise only LX1-2", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void With_existing_looks_only_each_is_named_asked_for_at_most_twice_and_then_it_says_that_none_is_left()
    {
        List<string> looks = [];
        ProgramRun run = ProgramRun.Asked(Stage.OfLooks(look =>
        {
            looks.Add(look);
            return "lit";
        }), [.. Locate, "--ask", "--controller", "looks"]);
        Assert.Equal("", run.Error);
        Assert.Equal(3, run.Code);
        Assert.NotEmpty(looks);
        Assert.All(looks, look => Assert.StartsWith("19:4", look, StringComparison.Ordinal));
        Assert.True(looks.GroupBy(look => look).Max(same => same.Count()) <= 2, string.Join(", ", looks));
        Assert.Contains("No safe question is left that would tell more by looks that exist", Flat(run), StringComparison.Ordinal);
        Assert.Contains("--controller ranges", Flat(run), StringComparison.Ordinal);
    }

    [Fact]
    public void A_moving_head_is_looked_at_first_and_where_nothing_safe_is_left_it_says_which_slots_why_and_what_to_do_instead()
    {
        List<string> questions = [];
        ProgramRun run = ProgramRun.Asked(shown =>
        {
            if (shown.EndsWith("(yes or no)", StringComparison.Ordinal))
            {
                return "no";
            }

            if (shown.EndsWith("leave them alone)", StringComparison.Ordinal))
            {
                return "";
            }

            questions.Add(shown[shown.LastIndexOf("Question ", StringComparison.Ordinal)..]);
            return "dark";
        }, ["locate", WithoutTheLaptop(), "--patch", Hall + "patch.csv", "--unit", "LX2-2", "--ask", "--controller", "ranges"]);
        Assert.Equal("", run.Error);
        Assert.Equal(3, run.Code);
        Assert.StartsWith("Question 1: Bring up the look that stood at 19:41:", questions[0], StringComparison.Ordinal);
        Assert.DoesNotContain("2.201", Asked(run)[..Asked(run).IndexOf("Next", StringComparison.Ordinal)], StringComparison.Ordinal);
        string flat = Flat(run);
        Assert.Contains("No safe question is left that would tell more", flat, StringComparison.Ordinal);
        Assert.Matches(@"Likeliest is \d\.\d{3} \(\d+ %\)\. Nothing that may be raised lights it there: ", flat);
        Assert.Contains("Then ask again: what is known opens more slots. Or read the start address and the mode on the display of LX2-2", flat, StringComparison.Ordinal);
        Assert.Contains("with people clear, the work light on and nothing moving, pull its data", flat, StringComparison.Ordinal);
    }

    [Fact]
    public void With_an_audience_in_nothing_is_raised()
    {
        ProgramRun run = ProgramRun.Asked(_ => "yes", [.. Locate, "--ask", "--controller", "ranges"]);
        Assert.Equal(3, run.Code);
        Assert.Contains("With an audience in nothing is raised", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Question 1", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_holds_answers_and_decision_and_a_second_run_goes_on_from_it()
    {
        string log = Path.Combine(_folder.FullName, "lx1-6.csv");
        Stage first = new(16) { StopAfter = 3 };
        ProgramRun begun = ProgramRun.Asked(first.Answer, [.. Locate, "--ask", "--controller", "ranges", "--log", log]);
        Assert.Equal(3, begun.Code);
        Stage second = new(16);
        ProgramRun ended = ProgramRun.Asked(second.Answer, [.. Locate, "--ask", "--controller", "ranges", "--log", log]);
        Stage whole = new(16);
        _ = ProgramRun.Asked(whole.Answer, [.. Locate, "--ask", "--controller", "ranges"]);
        Assert.Equal(1, ended.Code);
        Assert.Equal(whole.Questions, first.Questions + second.Questions);
        string[] lines = File.ReadAllLines(log);
        Assert.Equal("time,unit,look,raised", lines[0]);
        Assert.Contains(lines, line => line.Contains("as found,\"LX1-6 reads 1.016, not 1.061", StringComparison.Ordinal));
        Assert.EndsWith("as left,set to 061", lines[^1], StringComparison.Ordinal);

        // The log is notes: it speaks for the same place without a single question.
        ProgramRun again = ProgramRun.Of([.. Locate, "--notes", log]);
        Assert.Equal(1, again.Code);
    }

    [Fact]
    public void Answers_that_run_out_say_so_and_the_hint_asks_for_no_questions_again()
    {
        string answers = Written("short.txt", "no\nd\n");
        ProgramRun run = ProgramRun.Of([.. Locate, "--ask", "--controller", "ranges", "--answers", answers]);
        Assert.Equal(3, run.Code);
        Assert.Contains("The answers ended at line 2, and question 2 is still open: the result stands as it is.", Flat(run), StringComparison.Ordinal);
        Assert.DoesNotContain("let --ask", Flat(run), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_two_equal_senders_decide_the_universe_of_the_unit_nothing_is_asked()
    {
        string refusal = ProgramRun.Asked(_ => "no", ["locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX3-1", "--ask", "--controller", "ranges"]).Refusal();
        Assert.StartsWith("2 senders at the same priority on sACN 2: what LX3-1 obeys is its own choice; switch one off, or raise the priority of the right one, then capture and ask again", refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_universe_that_others_share_is_left_out_of_the_looks_with_a_note()
    {
        ProgramRun run = ProgramRun.Asked(new Stage(16).Answer, [.. Locate, "--ask", "--controller", "ranges"]);
        Assert.Contains("2 senders at the same priority on sACN 2: what units there obey is their own choice, so nothing there is raised", Flat(run), StringComparison.Ordinal);
        Assert.DoesNotMatch(@"raise only[^?]* 2\.\d{3}[^?]* to full", Flat(run));
    }

    [Fact]
    public void A_look_that_exists_is_not_asked_for_twice_running_while_another_tells_and_a_repeat_says_why()
    {
        List<string> asked = [];
        ProgramRun run = ProgramRun.Asked(Stage.OfLooks(look =>
        {
            asked.Add(look);
            return "lit";
        }), [.. Locate, "--ask", "--controller", "looks"]);
        Assert.NotEqual(asked[0], asked[1]);
        Assert.Equal(asked.Count - asked.Distinct().Count(), System.Text.RegularExpressions.Regex.Count(Flat(run), "nce more, to be sure of the eye: bring up"));
        Assert.Contains("every light of the sheet up: LX1-1, ", Flat(run), StringComparison.Ordinal);
    }

    [Fact]
    public void An_answer_can_be_taken_back_and_the_log_forgets_it()
    {
        string log = Path.Combine(_folder.FullName, "back.csv");
        int count = 0;
        ProgramRun run = ProgramRun.Asked(_ => count++ switch { 0 => "no", 1 => "lit", 2 => "b", 3 => "what?", _ => "q" }, [.. Locate, "--ask", "--controller", "ranges", "--log", log]);
        Assert.Contains("The last answer is taken back.", run.Output, StringComparison.Ordinal);
        Assert.Contains("'what?' is not understood", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain(File.ReadAllLines(log), line => line.Contains(",lit,", StringComparison.Ordinal));
    }

    [Fact]
    public void Answers_may_come_from_a_file_and_json_keeps_the_questions_apart()
    {
        string answers = Written("answers.txt", "# nobody is in\nno\nq\n");
        ProgramRun run = ProgramRun.Of([.. Locate, "--ask", "--controller", "ranges", "--answers", answers, "--json"]);
        Assert.Equal(3, run.Code);
        Assert.Contains("Question 1", run.Error, StringComparison.Ordinal);
        Assert.Equal("notEnough", JsonDocument.Parse(run.Output).RootElement.GetProperty("claim").GetString());
    }

    [Fact]
    public void Notes_alone_leave_two_places_and_the_look_that_splits_them_finds_the_address()
    {
        ProgramRun run = ProgramRun.Of([.. Locate, "--notes", Hall + "lx1-6-notes.csv", "--json"]);
        JsonElement page = JsonDocument.Parse(run.Output).RootElement;
        Assert.Equal(3, run.Code);
        Assert.Equal("oneOf", page.GetProperty("claim").GetString());
        Assert.Equal(16, page.GetProperty("best").GetProperty("address").GetInt32());
        Assert.All(page.GetProperty("contributions").EnumerateArray(), piece => Assert.Equal("look", piece.GetProperty("evidence").GetString()));
        Assert.Contains("raise only LX1-2", page.GetProperty("nextStep").GetString(), StringComparison.Ordinal);
        string look = Written("look.csv", "time,unit,look,raised\n62,LX1-6,lit,1.013-017@255\n64,LX1-6,lit,1.013-017@255\n");
        ProgramRun with = ProgramRun.Of([.. Locate, "--notes", Hall + "lx1-6-notes.csv", "--notes", look]);
        Assert.Equal(1, with.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", with.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Taps_of_a_light_that_shares_its_moves_with_no_other_find_the_address()
    {
        ProgramRun taps = ProgramRun.Of([.. Locate, "--notes", Hall + "lx1-6-taps.csv"]);
        Assert.Equal(1, taps.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", taps.Output, StringComparison.Ordinal);
        Assert.Contains("taps within", taps.Output, StringComparison.Ordinal);
        ProgramRun both = ProgramRun.Of([.. Locate, "--notes", Hall + "lx1-6-taps.csv", "--notes", Hall + "lx1-6-notes.csv"]);
        Assert.Equal(1, both.Code);
        Assert.StartsWith("LX1-6 reads 1.016", both.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trace_and_notes_add_up_and_each_says_what_it_contributed()
    {
        ProgramRun run = ProgramRun.Of([.. Locate, "--trace", Hall + "lx1-6-trace.csv", "--notes", Hall + "lx1-6-notes.csv"]);
        Assert.Equal(1, run.Code);
        Assert.Contains("the trace, ", run.Output, StringComparison.Ordinal);
        Assert.Contains("noted at", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_menu_shows_is_evidence()
    {
        string notes = Written("menu.csv", "time,unit,look\n60,LX1-6,rdm 16 footprint 10\n");
        Assert.StartsWith("LX1-6 reads 1.016", ProgramRun.Of([.. Locate, "--map", "1=artnet:0", "--notes", notes, "--notes", Hall + "lx1-6-taps.csv"]).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void What_rdm_devices_in_the_capture_report_counts_without_a_trace_too()
    {
        // By the notes alone 1.016 and a place beside it are left: the device that no other unit stands for tells them apart.
        ProgramRun run = ProgramRun.Of(["locate", Hall + "soundcheck.pcapng", "captures/rdm/stage-left.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--notes", Hall + "lx1-6-notes.csv"]);
        Assert.Equal(1, run.Code);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", run.Output, StringComparison.Ordinal);
        Assert.Contains("  what RDM reports: ", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_kind_of_evidence_says_in_text_and_json_what_it_contributed()
    {
        string menu = Written("all.csv", "time,unit,look,raised\n60,LX1-6,rdm 16 footprint 10,\n62,LX1-6,lit,1.013-017@255\n");
        string answers = Written("answers.txt", "no\nq\n");
        string[] all =
        [
            "locate", Hall + "soundcheck.pcapng", "captures/rdm/stage-left.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--trace", Hall + "lx1-6-trace.csv",
            "--notes", Hall + "lx1-6-notes.csv", "--notes", Hall + "lx1-6-taps.csv", "--notes", menu, "--ask", "--controller", "ranges", "--answers", answers,
        ];
        JsonElement page = JsonDocument.Parse(ProgramRun.Of([.. all, "--json"]).Output).RootElement;
        JsonElement[] pieces = [.. page.GetProperty("contributions").EnumerateArray()];
        Assert.Equal(["answer", "device", "look", "rdm", "taps", "trace"], pieces.Select(piece => piece.GetProperty("evidence").GetString()).Distinct().Order());
        string text = ProgramRun.Of(all).Output;
        foreach (string part in new[] { "the trace, ", "what RDM reports: ", " noted at ", " taps within", "it says it stores", "'lit' with 1.013-017@255 up" })
        {
            Assert.Contains(part, text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("locate needs to know what the light did")]
    [InlineData("--ask needs to know what you have at hand", "--ask")]
    [InlineData("--controller: expected ranges, faders:N with N from 1 to 512, or looks, found 'faders:0'", "--ask", "--controller", "faders:0")]
    [InlineData("--controller is for guided questions", "--controller", "ranges", "--trace", Hall + "lx1-6-trace.csv")]
    [InlineData("--tap is for live inputs", "--tap")]
    [InlineData("captures/harbour-hall/patch.csv: this is no decision log", "--log", Hall + "patch.csv")]
    public void Options_that_do_not_serve_are_refused_with_one_sentence(string sentence, params string[] more) =>
        Assert.StartsWith(sentence, ProgramRun.Of([.. Locate, .. more]).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("time,unit,look\n3,LX1-6,glowing\n", "line 2, column 9 (look)")]
    [InlineData("time,unit,look\n3600,LX1-6,dark\n", "line 2, column 1 (time)")]
    [InlineData("time,unit,look\n-5,LX1-6,dark\n", "line 2, column 1 (time)")]
    [InlineData("time,unit,look\n3,LX1-60,dark\n", "line 2, column 3 (unit)")]
    [InlineData("\u0001\u0002\u0003\n", "line 1, column 1")]
    public void Notes_that_do_not_serve_are_refused_with_line_and_column(string text, string where)
    {
        string path = Written("notes.csv", text);
        string refusal = ProgramRun.Of([.. Locate, "--notes", path]).Refusal();
        Assert.StartsWith(path + ": ", refusal, StringComparison.Ordinal);
        Assert.Contains(where, refusal, StringComparison.Ordinal);
    }

    private static string Flat(ProgramRun run) => string.Join(' ', run.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static string Asked(ProgramRun run) => run.Output[..run.Output.IndexOf("Evidence", StringComparison.Ordinal)];

    /// <summary>The soundcheck without the second sender of sACN 2, 10.20.0.77: with it nothing may be asked about a unit there.</summary>
    private string WithoutTheLaptop()
    {
        // Blocks of a pcapng file: type, length, body, length; a packet is of type 6 (IETF draft-ietf-opsawg-pcapng).
        byte[] laptop = [10, 20, 0, 77];
        byte[] file = File.ReadAllBytes(Hall + "soundcheck.pcapng");
        using MemoryStream kept = new();
        for (int at = 0, length; at < file.Length; at += length)
        {
            length = BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(at + 4));
            ReadOnlySpan<byte> block = file.AsSpan(at, length);
            if (BinaryPrimitives.ReadInt32LittleEndian(block) != 6 || block.IndexOf(laptop) < 0)
            {
                kept.Write(block);
            }
        }

        string path = Path.Combine(_folder.FullName, "soundcheck.pcapng");
        File.WriteAllBytes(path, kept.ToArray());
        return path;
    }

    private string Written(string name, string text)
    {
        string path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }
}
