namespace DmxProbe.Tests.Cli;

/// <summary>Whatever is given as an input, the answer is one sentence and exit code 2, or what could be read of it.</summary>
public sealed class BadInputTests : IDisposable
{
    private const string Capture = "captures/net/gen_artnet_loopback.pcap";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("survey")]
    [InlineData("timing")]
    public void An_empty_file_is_refused(string command) =>
        Assert.Contains("empty", ProgramRun.Of(command, File("empty.pcap", [])).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("survey")]
    [InlineData("timing")]
    public void A_text_file_is_refused_with_what_was_found(string command)
    {
        string sentence = ProgramRun.Of(command, File("notes.txt", "LX1-6 does not follow\n"u8.ToArray())).Refusal();
        Assert.Contains("found text", sentence, StringComparison.Ordinal);
        Assert.Contains("byte 0", sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("NOPE", "check the name after --bad")]
    [InlineData("LX1-1 to LX1-6", "--bad takes no range: name each unit, parted by commas, as in --bad LX1-6,LX1-7")]
    public void An_unknown_bad_unit_is_refused_with_the_option_that_was_typed(string bad, string said)
    {
        string sentence = ProgramRun.Of("diagnose", "captures/harbour-hall/soundcheck.pcapng", "--patch", "captures/harbour-hall/patch.csv", "--bad", bad).Refusal();
        Assert.Contains(said, sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("--unit", sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("report", "-o")]
    [InlineData("walk", "--as-found")]
    public void A_file_in_a_missing_folder_is_refused_with_the_folder_alone(string command, string option)
    {
        string gone = Path.Combine(_folder, "gone");
        string[] sheet = ["--patch", "captures/harbour-hall/patch.csv"];
        string sentence = ProgramRun.Of([command, "captures/harbour-hall/soundcheck.pcapng", .. sheet, option, Path.Combine(gone, "out.csv")]).Refusal();
        Assert.Contains($"there is no folder {gone};", sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(".tmp", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void An_option_of_another_command_is_not_taken_for_a_file()
    {
        string sentence = ProgramRun.Of("survey", Capture, "--bad").Refusal();
        Assert.Contains("--bad is an option of", sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("./--bad", sentence, StringComparison.Ordinal);
        Assert.Contains("./--jsn", ProgramRun.Of("survey", Capture, "--jsn").Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_is_refused() =>
        Assert.Contains("folder", ProgramRun.Of("survey", _folder).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_file_that_is_not_there_is_refused() =>
        Assert.Contains("no such file", ProgramRun.Of("survey", Path.Combine(_folder, "gone.pcap")).Refusal(), StringComparison.Ordinal);

    [SkippableFact]
    public void A_file_that_may_not_be_read_is_refused()
    {
        if (OperatingSystem.IsWindows())
        {
            Skip.If(true, "file modes are of Unix");
            return;
        }

        string path = File("locked.pcap", [1, 2, 3]);
        System.IO.File.SetUnixFileMode(path, UnixFileMode.None);
        Skip.If(Environment.IsPrivilegedProcess, "root may read everything");
        Assert.Contains("may not be read", ProgramRun.Of("survey", path).Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void An_input_without_a_date_is_not_laid_on_the_clock_of_one_that_has_it()
    {
        ProgramRun run = ProgramRun.At(100_000, "survey", "captures/harbour-hall/soundcheck.pcapng", "captures/harbour-hall/stage-left.vcd", "--utc");
        Assert.Equal((1, ""), (run.Code, run.Error));
        Assert.Contains(
            "in 4 universes over 59.9 s (2026-03-14 19:41:00 to 19:41:59 UTC), and 2.50 s of captures/harbour-hall/stage-left.vcd, which has no date.",
            run.Output.Split('\n')[1],
            StringComparison.Ordinal);
        Assert.DoesNotContain("1970", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("stopped", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("recording to 19:41", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_capture_gives_what_stands_before_the_cut_and_says_so()
    {
        byte[] whole = System.IO.File.ReadAllBytes(Capture);
        ProgramRun run = ProgramRun.At(100_000, "survey", File("cut.pcap", whole[..(whole.Length / 2)]));
        Assert.Equal(1, run.Code);
        Assert.Equal("", run.Error);
        Assert.Contains("Art-Net 0:0:5 = Port-Address 5: 1 sender", run.Output, StringComparison.Ordinal);
        Assert.Contains("ends early, so nothing is said of what came after: ", string.Join('\n', run.Output.Split('\n').Take(2)), StringComparison.Ordinal);
    }

    // docs/decisions/0006: clean is said only of what was read to its end; an answer says what it rests on.
    [Fact]
    public void A_cut_capture_is_never_clean_and_every_answer_about_it_says_so_first()
    {
        byte[] whole = System.IO.File.ReadAllBytes(Capture);
        string cut = File("killed.pcap", whole[..^5]);
        Assert.Equal(0, ProgramRun.Of("timing", Capture).Code);
        foreach (string command in new[] { "survey", "timing" })
        {
            ProgramRun run = ProgramRun.At(100_000, command, cut);
            Assert.Equal((1, ""), (run.Code, run.Error));
            Assert.Contains("ends early, so ", string.Join('\n', run.Output.Split('\n').Take(2)), StringComparison.Ordinal);
        }

        ProgramRun slot = ProgramRun.At(100_000, "explain", cut, "--slot", "artnet:5.1");
        Assert.Contains("ends early, so nothing is said of what came after: ", string.Join('\n', slot.Output.Split('\n').Take(2)), StringComparison.Ordinal);
        Assert.Contains("ends early, so ", ProgramRun.At(100_000, "patch", "check", "captures/harbour-hall/patch.csv", "--capture", cut).Output, StringComparison.Ordinal);
    }

    // docs/decisions/0006: one rule for whatever reads a capture; only locate's codes are its answer.
    [Theory]
    [InlineData("explain CAPTURE --slot artnet:0.1")]
    [InlineData("explain CAPTURE --slot artnet:0.1-3")]
    [InlineData("explain CAPTURE --patch captures/harbour-hall/patch.csv --unit LX1-1")]
    [InlineData("review CAPTURE --universe sacn:2 --at 3")]
    [InlineData("review CAPTURE --moments")]
    [InlineData("compare CAPTURE CAPTURE")]
    [InlineData("export CAPTURE --what changes -o OUT")]
    [InlineData("export CAPTURE --what sheet --patch captures/harbour-hall/patch.csv -o OUT")]
    [InlineData("walk CAPTURE --patch captures/harbour-hall/patch.csv")]
    public void A_command_that_is_clean_on_a_whole_capture_ends_with_1_on_its_first_part(string command)
    {
        const string Whole = "captures/harbour-hall/soundcheck.pcapng";
        string cut = File("part.pcapng", System.IO.File.ReadAllBytes(Whole)[..^5]);
        Assert.Equal((0, ""), Run(Whole, "whole.csv"));
        Assert.Equal((1, ""), Run(cut, "cut.csv"));

        (int, string) Run(string capture, string output)
        {
            ProgramRun run = ProgramRun.Of(command.Replace("CAPTURE", capture, StringComparison.Ordinal).Replace("OUT", Path.Combine(_folder, output), StringComparison.Ordinal).Split(' '));
            return (run.Code, run.Error);
        }
    }

    [Fact]
    public void A_capture_cut_anywhere_in_its_first_records_ends_as_an_answer_or_one_sentence()
    {
        byte[] whole = System.IO.File.ReadAllBytes(Capture);
        for (int length = 0; length < 1_300; length += 7)
        {
            ProgramRun run = ProgramRun.Of("survey", File("cut.pcap", whole[..length]));
            if (run.Code == 2)
            {
                run.Refusal();
            }
            else
            {
                Assert.Equal("", run.Error);
            }
        }
    }

    [Fact]
    public void Random_bytes_end_as_an_answer_or_one_sentence()
    {
        Random random = new(1_773_517_260);
        byte[] whole = System.IO.File.ReadAllBytes(Capture)[..6_000];
        for (int round = 0; round < 60; round++)
        {
            byte[] damaged = [.. whole];
            for (int i = 0; i < 40; i++)
            {
                damaged[random.Next(24, damaged.Length)] = (byte)random.Next(256);
            }

            ProgramRun run = ProgramRun.Of("survey", File("damaged.pcap", damaged), "--json");
            Assert.DoesNotContain("fault of this program", run.Error, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("net")]
    [InlineData("net:10.0.0.1")]
    [InlineData("nic:eth0")]
    [InlineData("framed:/dev/ttyUSB0")]
    [InlineData("uart:COM3")]
    public void A_command_that_reads_files_refuses_a_live_input_and_says_how_to_name_a_file(string word)
    {
        string sentence = ProgramRun.Of("patch", "check", "captures/harbour-hall/patch.csv", "--capture", word).Refusal();
        Assert.Contains("this command reads files", sentence, StringComparison.Ordinal);
        Assert.Contains("./" + word, sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("net:198.51.100.77", "no interface of this computer has the address 198.51.100.77")]
    [InlineData("net:nonsense", "no address of an interface")]
    public void A_live_input_that_is_not_here_is_refused_with_those_that_are(string word, string named)
    {
        string sentence = ProgramRun.Of("survey", word, "--for", "1s").Refusal();
        Assert.Contains(named, sentence, StringComparison.Ordinal);
        Assert.Contains("127.0.0.1", sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--for", "soon")]
    [InlineData("--for", "0s")]
    [InlineData("--join", "0")]
    [InlineData("--join", "4-1")]
    [InlineData("--join", "1,x")]
    [InlineData("--join", "1-63999")]
    public void A_listening_option_that_does_not_serve_is_refused_with_what_was_expected(string option, string value)
    {
        string sentence = ProgramRun.Of("survey", "net", option, value).Refusal();
        Assert.Contains(option, sentence, StringComparison.Ordinal);
        Assert.Contains("expected", sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("survey")]
    [InlineData("timing")]
    [InlineData("record", "-o", "never-made")]
    [InlineData("explain", "--patch", "captures/harbour-hall/patch.csv", "--unit", "LX1-6")]
    [InlineData("walk", "--patch", "captures/harbour-hall/patch.csv")]
    [InlineData("locate", "--patch", "captures/harbour-hall/patch.csv", "--unit", "LX1-6", "--trace", "captures/harbour-hall/lx1-6-trace.csv")]
    public void A_listening_option_without_a_live_input_is_refused_and_nothing_is_read(string command, params string[] more)
    {
        foreach ((string[] option, string said) in new (string[], string)[]
        {
            (["--for", "10s"], "--for says how long a live input is listened to, and " + Capture + " is a file"),
            (["--join", "1-4"], "--join says how net listens, and " + Capture + " is not net"),
            (["--join-on-wireless", "--announce", "no-audience"], "--join-on-wireless and --announce say how net listens"),
        })
        {
            Assert.Contains(said, ProgramRun.Of([command, Capture, .. option, .. more]).Refusal(), StringComparison.Ordinal);
        }

        Assert.False(Directory.Exists("never-made"));
    }

    [Fact]
    public void What_only_net_can_do_is_refused_for_another_live_input() =>
        Assert.Contains("nic:lo is not net", ProgramRun.Of("survey", "nic:lo", "--for", "1s", "--join", "1").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_reading_of_light_cannot_locate_a_unit_that_gives_none()
    {
        string sentence = ProgramRun.Of("locate", "captures/harbour-hall/soundcheck.pcapng", "--patch", "captures/harbour-hall/patch.csv", "--unit", "HZ-1", "--trace", "captures/harbour-hall/lx1-6-trace.csv").Refusal();
        Assert.Contains("no intensity, shutter or colour", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_unit_without_light_is_told_is_said_and_two_senders_that_disagree_are_a_fault()
    {
        ProgramRun run = ProgramRun.Of("explain", "captures/harbour-hall/soundcheck.pcapng", "--patch", "captures/harbour-hall/patch.csv", "--unit", "HZ-1");
        Assert.Equal(1, run.Code);
        Assert.Contains("may be running", run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.DoesNotContain("is dark", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_second_copy_of_a_capture_is_not_put_beside_the_first()
    {
        string folder = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        try
        {
            Assert.Equal(0, ProgramRun.Of("record", Capture, "-o", folder).Code);
            Assert.Contains("already", ProgramRun.Of("record", Capture, "-o", folder).Refusal(), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // docs/decisions/0006: where not one record can be read, the answer is why, and no table or page of nothing is made.
    [Theory]
    [InlineData("survey CAPTURE")]
    [InlineData("diagnose CAPTURE --patch captures/harbour-hall/patch.csv")]
    [InlineData("explain CAPTURE --slot artnet:0.1")]
    [InlineData("explain CAPTURE --slot artnet:0.1-3")]
    [InlineData("explain CAPTURE --patch captures/harbour-hall/patch.csv --unit LX1-1")]
    [InlineData("walk CAPTURE --patch captures/harbour-hall/patch.csv")]
    [InlineData("patch check captures/harbour-hall/patch.csv --capture CAPTURE")]
    [InlineData("compare CAPTURE captures/harbour-hall/soundcheck.pcapng")]
    [InlineData("report CAPTURE -o OUT.html")]
    [InlineData("export CAPTURE --what frames -o OUT.csv")]
    [InlineData("export CAPTURE --what findings -o OUT.csv")]
    [InlineData("export CAPTURE --what measurements -o OUT.csv")]
    [InlineData("export CAPTURE --what everything -o OUT.json")]
    [InlineData("record pack CAPTURE --show X -o OUT")]
    public void A_capture_cut_before_its_first_record_is_refused_as_cut_and_one_without_a_record_as_empty(string command)
    {
        byte[] whole = System.IO.File.ReadAllBytes(Capture);
        Assert.Contains("the file ends inside record 1 at byte 24", Said(whole[..30]), StringComparison.Ordinal);
        Assert.Contains("no record is in it, so there is nothing to ", Said(whole[..24]), StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(_folder));

        string Said(byte[] content) => ProgramRun.Of(
            command.Replace("CAPTURE", File("part.pcap", content), StringComparison.Ordinal).Replace("OUT", Path.Combine(_folder, "out"), StringComparison.Ordinal).Split(' ')).Refusal();
    }

    [Theory]
    [InlineData("survey", "no record is in it")]
    [InlineData("timing", "nothing to measure")]
    public void A_capture_without_a_record_is_no_capture_without_a_fault(string command, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of(command, File("none.pcap", System.IO.File.ReadAllBytes(Capture)[..24])).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_name_full_of_control_characters_is_shown_escaped()
    {
        ProgramRun run = ProgramRun.Of("survey", "\u001b[2J\u202e.pcap");
        Assert.Contains("\\u001B[2J\\u202E.pcap", run.Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("unit,type,mode,universe\nLX1,wash,m,1\n", "address")]
    [InlineData("unit,type,mode,universe,address\nLX1,wash,m,1,513\n", "512")]
    [InlineData("", "")]
    public void A_sheet_with_a_fault_in_its_table_is_refused_with_the_place(string csv, string named) =>
        Assert.Contains(named, ProgramRun.Of("patch", "check", File("patch.csv", System.Text.Encoding.UTF8.GetBytes(csv))).Refusal(), StringComparison.Ordinal);

    [Theory]
    [InlineData("mode,slot,function,from,to,meaning\nm,1,Dimmer,0,100,low\n")]
    [InlineData("mode,slot,function,from,to,meaning\nm,1,Dimmer,0,200,low\nm,1,Dimmer,150,255,high\n")]
    [InlineData("nothing of a chart\n")]
    public void A_chart_with_gaps_or_overlaps_is_refused(string csv) =>
        ProgramRun.Of("chart", "show", File("chart.csv", System.Text.Encoding.UTF8.GetBytes(csv))).Refusal();

    [Fact]
    public void A_type_on_the_sheet_cannot_lead_out_of_the_folder_of_charts()
    {
        File("secret.csv", "mode,slot,function,from,to,meaning\nm,1,Dimmer,0,255,all\n"u8.ToArray());
        Directory.CreateDirectory(Path.Combine(_folder, "charts"));
        string sheet = File("patch.csv", "unit,type,mode,universe,address\nLX1,../secret,m,1,1\n"u8.ToArray());
        ProgramRun run = ProgramRun.Of("patch", "check", sheet, "--json");
        Assert.Contains("unknown-type", run.Output, StringComparison.Ordinal);
    }

    private string File(string name, byte[] content)
    {
        string path = Path.Combine(_folder, name);
        System.IO.File.WriteAllBytes(path, content);
        return path;
    }
}
