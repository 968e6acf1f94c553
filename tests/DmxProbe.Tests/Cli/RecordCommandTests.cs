using System.Text.Json;

using DmxProbe.Cli;

namespace DmxProbe.Tests.Cli;

[Collection("lighting ports")]
public sealed class RecordCommandTests : IDisposable
{
    private const string Soundcheck = "captures/harbour-hall/soundcheck.pcapng";

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-record-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_survey_of_a_folder_of_segments_is_that_of_the_capture()
    {
        ProgramRun record = ProgramRun.Of("record", Soundcheck, "-o", _folder, "--segment", "20s");
        Assert.Equal(0, record.Code);
        Assert.Equal("", record.Error);
        Assert.Contains("1,902 records with 0 marks", record.Output, StringComparison.Ordinal);
        Assert.Equal(3, Directory.GetFiles(_folder, "*.pcapng").Length);
        string expected = ProgramRun.Of("survey", Soundcheck, "--json").Output.Replace(Soundcheck, "X", StringComparison.Ordinal);
        string found = ProgramRun.Of("survey", _folder, "--json").Output.Replace(_folder, "X", StringComparison.Ordinal);
        Assert.Equal(expected, found);
    }

    [Fact]
    public void Every_command_that_takes_an_input_takes_the_folder()
    {
        ProgramRun.Of("record", Soundcheck, "-o", _folder, "--segment", "500kB");
        Assert.Equal(
            ProgramRun.Of("timing", Soundcheck).Output.Replace(Soundcheck, "X", StringComparison.Ordinal),
            ProgramRun.Of("timing", _folder).Output.Replace(_folder, "X", StringComparison.Ordinal));
        string[] locate = ["--patch", "captures/harbour-hall/patch.csv", "--unit", "LX1-6", "--trace", "captures/harbour-hall/lx1-6-trace.csv", "--map", "1=artnet:0,2=sacn:2,3=sacn:3"];
        Assert.Equal(ProgramRun.Of(["locate", Soundcheck, .. locate]).Output, ProgramRun.Of(["locate", _folder, .. locate]).Output);
    }

    // Another program of this machine may send meanwhile: then there is something, and the code says so.
    [Fact]
    public void A_live_input_that_brought_nothing_ends_with_1()
    {
        ProgramRun record = ProgramRun.Of("record", "net:127.0.0.1", "-o", _folder, "--for", "1s");
        bool nothing = record.Output.Contains("Nothing came in", StringComparison.Ordinal);
        Assert.Equal(nothing ? 1 : 0, record.Code);
    }

    [Fact]
    public void Marks_left_in_the_folder_show_in_the_survey_escaped()
    {
        ProgramRun mark = ProgramRun.Of("record", "mark", _folder, "LX1-6 \u001b[2J flickers");
        Assert.Equal(0, mark.Code);
        Assert.Contains("next recording", mark.Output, StringComparison.Ordinal);

        ProgramRun.Of("record", Soundcheck, "-o", _folder);
        JsonElement survey = JsonDocument.Parse(ProgramRun.Of("survey", _folder, "--json").Output).RootElement;
        Assert.Equal(1, survey.GetProperty("markCount").GetInt64());
        Assert.Equal("LX1-6 \u001b[2J flickers", survey.GetProperty("marks")[0].GetProperty("text").GetString());
        Assert.Contains("LX1-6 \\u001B[2J flickers", ProgramRun.Of("survey", _folder).Output, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder, "mark-*"));
    }

    [Fact]
    public void A_mark_that_is_too_long_or_for_no_folder_is_refused()
    {
        Assert.Contains("1,024", ProgramRun.Of("record", "mark", _folder, new string('x', 1_025)).Refusal(), StringComparison.Ordinal);
        Assert.Contains("no such folder", ProgramRun.Of("record", "mark", Path.Combine(_folder, "gone"), "x").Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--segment", "fast", "--segment takes")]
    [InlineData("--segment", "5kB", "--segment takes")]
    [InlineData("--ring", "0s", "--ring takes")]
    [InlineData("--for", "10", "--for: expected a length")]
    public void An_amount_that_is_none_is_refused(string option, string text, string sentence) =>
        Assert.Contains(sentence, ProgramRun.Of("record", Soundcheck, "-o", _folder, option, text).Refusal(), StringComparison.Ordinal);

    [Fact]
    public void A_folder_that_is_a_file_is_refused()
    {
        string file = Path.Combine(_folder, "file");
        File.WriteAllText(file, "x");
        Assert.Contains("cannot be recorded to", ProgramRun.Of("record", Soundcheck, "-o", file).Refusal(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bananas", "", "no such file")]
    [InlineData("bananas", "--for 2s", "bananas: there is no such file, and no live input is called so")]
    [InlineData("net:1.2.3.4", "", "dmxprobe inputs")]
    [InlineData("net:bananas", "", "dmxprobe inputs")]
    public void An_input_that_cannot_be_opened_leaves_no_folder(string input, string options, string sentence)
    {
        string place = Path.Combine(_folder, "new", "deep");
        string[] rest = options.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Contains(sentence, ProgramRun.Of(["record", input, "-o", place, .. rest]).Refusal(), StringComparison.Ordinal);
        Assert.Empty(Directory.GetFileSystemEntries(_folder));
        Directory.CreateDirectory(place); // one that was there stays
        ProgramRun.Of(["record", input, "-o", place, .. rest]).Refusal();
        Assert.True(Directory.Exists(place));
    }

    [SkippableFact]
    public void A_place_that_takes_no_folder_is_said_in_our_words()
    {
        Skip.IfNot(OperatingSystem.IsLinux(), "/proc is of Linux");
        string refusal = ProgramRun.Of("record", Soundcheck, "-o", "/proc/xx").Refusal();
        Assert.Contains("found a place in which no folder can be made", refusal, StringComparison.Ordinal);
        Assert.DoesNotContain("Could not find", refusal, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    public void A_mark_without_a_text_is_refused(string text)
    {
        Assert.NotEqual("", ProgramRun.Of("record", "mark", _folder, text).Refusal());
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_run_that_was_killed_and_a_mark_left_behind_are_told()
    {
        ProgramRun.Of("record", Soundcheck, "-o", _folder);
        string list = Assert.Single(Directory.GetFiles(_folder, "*.run.json"));
        Assert.DoesNotContain("was not ended", ProgramRun.Of("survey", _folder).Output, StringComparison.Ordinal);

        File.WriteAllText(list, System.Text.RegularExpressions.Regex.Replace(File.ReadAllText(list), "\"ended\": \"[^\"]*\"", "\"ended\": null"));
        ProgramRun.Of("record", "mark", _folder, "doors \u001b[2J open");
        string output = ProgramRun.At(400, "survey", _folder).Output;
        Assert.Contains("was not ended: it still records, or was killed", output, StringComparison.Ordinal);
        Assert.Contains("1 mark was left here while nothing recorded", output, StringComparison.Ordinal);
        Assert.Contains("doors \\u001B[2J open", output, StringComparison.Ordinal);
        Assert.Equal(2, JsonDocument.Parse(ProgramRun.Of("survey", _folder, "--json").Output).RootElement.GetProperty("inputs")[0].GetProperty("notes").GetArrayLength());
    }

    [Fact]
    public void The_time_between_two_runs_is_no_silence_and_no_loss()
    {
        // The same senders go on in the second run, 20 s and some hundred packets later.
        ProgramRun.Of("record", Soundcheck, "-o", _folder, "--segment", "20s");
        string[] segments = [.. Directory.GetFiles(_folder, "*.pcapng").Order(StringComparer.Ordinal)];
        string list = Assert.Single(Directory.GetFiles(_folder, "*.run.json"));
        foreach (string file in Directory.GetFiles(_folder).Where(file => file.StartsWith(segments[1], StringComparison.Ordinal)))
        {
            File.Delete(file);
        }

        // On one list the hole is silence of the network, which is what the test must be able to tell apart.
        Assert.Contains("sender-fell-silent", ProgramRun.Of("survey", _folder, "--json").Output, StringComparison.Ordinal);
        Assert.Contains("nobody: every sender is lost", ProgramRun.At(400, "survey", _folder, "--all").Output, StringComparison.Ordinal);
        string first = Path.GetFileName(segments[0]), last = Path.GetFileName(segments[2]);
        const string page = "{{\"schema\":1,\"started\":\"x\",\"ended\":\"y\",\"segments\":[{{\"name\":\"{0}\"}}]}}";
        File.WriteAllText(list, string.Format(System.Globalization.CultureInfo.InvariantCulture, page, first));
        File.WriteAllText(list.Replace(".run.json", "_2.run.json", StringComparison.Ordinal), string.Format(System.Globalization.CultureInfo.InvariantCulture, page, last));
        string survey = ProgramRun.Of("survey", _folder, "--json").Output;
        Assert.DoesNotContain("nobody: ", ProgramRun.Of("survey", _folder, "--all").Output, StringComparison.Ordinal);
        Assert.All(
            JsonDocument.Parse(survey).RootElement.GetProperty("universes").EnumerateArray().SelectMany(universe => universe.GetProperty("obeyed").EnumerateArray()),
            span => Assert.NotEqual(0, span.GetProperty("senders").GetArrayLength()));
        Assert.DoesNotContain("lost-packets", survey, StringComparison.Ordinal);
        Assert.DoesNotContain("sender-fell-silent", survey, StringComparison.Ordinal);
        Assert.DoesNotContain("capture-lost-records", survey, StringComparison.Ordinal);
    }

    [Fact]
    public void Json_says_what_was_recorded()
    {
        JsonElement page = JsonDocument.Parse(ProgramRun.Of("record", Soundcheck, "-o", _folder, "--json").Output).RootElement;
        Assert.Equal((1_902, 0, 1), (page.GetProperty("records").GetInt64(), page.GetProperty("notRecorded").GetInt64(), page.GetProperty("segments").GetInt32()));
    }

    [Fact]
    public void A_sentence_keeps_the_mark_it_ends_with()
    {
        using StringWriter error = new();
        using (RecordProgress progress = new(new ProgramHost(TextWriter.Null, error, 80, false, TimeZoneInfo.Utc, default), plain: true, "tonight"))
        {
            progress.Say("is the channel a DMX line?");
            progress.Say("an interface went away");
            progress.Say("it is back.");
        }

        Assert.Equal("dmxprobe: is the channel a DMX line?\ndmxprobe: an interface went away.\ndmxprobe: it is back.\n", error.ToString());
    }

    [Fact]
    public void Text_and_Enter_at_the_keyboard_make_a_mark_and_Enter_alone_a_numbered_one()
    {
        using StringWriter error = new();
        ProgramHost host = new(TextWriter.Null, error, 80, false, TimeZoneInfo.Utc, default);
        List<string> marks = [];
        using (RecordProgress progress = new(host, plain: false, "tonight"))
        {
            RecordKeys keys = new(() => default, marks.Add, progress);
            foreach (char key in "LX9\b1\r\r")
            {
                keys.Press(new ConsoleKeyInfo(key, key == '\r' ? ConsoleKey.Enter : key == '\b' ? ConsoleKey.Backspace : ConsoleKey.A, false, false, false));
            }
        }

        Assert.Equal(["LX1", "mark 2"], marks);
        Assert.Equal("dmxprobe: marked: LX1.\ndmxprobe: marked: mark 2.\n", error.ToString());
    }
}
