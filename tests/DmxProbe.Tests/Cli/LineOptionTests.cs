using System.Text.Json;
using DmxProbe.Testing.Line;

namespace DmxProbe.Tests.Cli;

/// <summary>What a person says about a line recording: --rate, --bit, --threshold.</summary>
public sealed class LineOptionTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("--rate", "fast", "expected a sampling rate such as 24M or 500k")]
    [InlineData("--rate", "0", "expected a sampling rate")]
    [InlineData("--rate", "11G", "from 1 Hz to 10 GHz")]
    [InlineData("--bit", "8", "expected a bit from 0 to 7")]
    [InlineData("--bit", "3", "add --rate")]
    [InlineData("--threshold", "1,5", "use a point for decimals")]
    [InlineData("--threshold", "NaN", "expected volts")]
    public void A_value_that_cannot_be_is_refused_with_what_can(string option, string value, string part)
    {
        foreach (string command in (string[])["survey", "timing"])
        {
            Assert.Contains(part, ProgramRun.Of(command, Raw(), option, value).Refusal(), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("--taps", "maybe", "--taps 'maybe': auto, off, one-clock or two-clocks is wanted")]
    [InlineData("--clock-ppm", "abc", "--clock-ppm 'abc': a number is wanted")]
    [InlineData("--clock-ppm", "-5", "a number from 0 to 100000 is wanted")]
    [InlineData("--rate", "-1", "from 1 Hz to 10 GHz, found '-1'")]
    [InlineData("--threshold", "-5000", "from -1000 to 1000, found '-5000'")]
    [InlineData("--bit", "-1", "expected a bit from 0 to 7, found '-1'")]
    [InlineData("--for", "-5s", "expected a length such as 10s")]
    [InlineData("--polarity", "", "--polarity is given an empty value")]
    public void A_value_that_is_no_number_or_none_of_the_words_names_what_is_wanted(string option, string value, string part)
    {
        foreach (string[] words in (string[][])[[option, value], [option + "=" + value]])
        {
            if (value.Length > 0 || words.Length > 1)
            {
                string refusal = ProgramRun.Of(["timing", Raw(), .. words]).Refusal();
                Assert.Contains(part, refusal, StringComparison.Ordinal);
                Assert.DoesNotContain("System.", refusal, StringComparison.Ordinal);
                Assert.DoesNotContain("\\u", refusal, StringComparison.Ordinal);
            }
        }
    }

    [Theory]
    [InlineData("survey")]
    [InlineData("timing")]
    public void An_empty_name_is_refused(string command) =>
        Assert.Contains("INPUT is empty", ProgramRun.Of(command, "").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void Raw_samples_are_read_with_a_rate_and_refused_without()
    {
        Assert.Contains("give --rate if these are raw samples", ProgramRun.Of("survey", Raw()).Refusal(), StringComparison.Ordinal);
        Assert.Equal("", ProgramRun.Of("survey", Raw(), "--rate", "1M", "--bit", "3").Error);
    }

    [Theory]
    [InlineData("950k")]
    [InlineData("1050k")]
    public void A_told_rate_that_is_slightly_off_is_questioned_in_every_form_and_judges_nothing(string rate)
    {
        string file = Sampled(1_000_000);
        JsonElement page = JsonDocument.Parse(ProgramRun.Of("timing", file, "--rate", rate, "--json").Output).RootElement;
        JsonElement line = page.GetProperty("lines").EnumerateArray().Single(channel => channel.GetProperty("label").ValueKind == JsonValueKind.String);
        Assert.Equal("rate", line.GetProperty("doubt").GetString());
        Assert.Contains("Is --rate right?", line.GetProperty("doubtText").GetString(), StringComparison.Ordinal);
        string[] verdicts = [.. page.GetProperty("timing").EnumerateArray().Where(figure => figure.GetProperty("transmit").ValueKind == JsonValueKind.Object).Select(figure => figure.GetProperty("verdict").GetString()!)];
        Assert.NotEmpty(verdicts);
        Assert.All(verdicts, verdict => Assert.Equal("undecided", verdict));

        foreach (string[] words in (string[][])[["timing", file, "--rate", rate], ["timing", file, "--rate", rate, "--bench"], ["survey", file, "--rate", rate]])
        {
            ProgramRun run = ProgramRun.Of(words);
            Assert.Equal(1, run.Code);
            Assert.Equal(1, run.Output.ReplaceLineEndings(" ").Split("Is --rate right?").Length - 1);
            Assert.DoesNotContain("outside the transmit", run.Output, StringComparison.Ordinal);
        }

        ProgramRun right = ProgramRun.Of("timing", file, "--rate", "1M", "--json");
        Assert.Equal(0, right.Code);
        Assert.Contains("\"doubtText\": null", right.Output, StringComparison.Ordinal);
    }

    // Read at 6 % or 14 % beside its rate, characters lose their stop bits and edges stand between bits: nobody did that.
    [Theory]
    [InlineData("940k")]
    [InlineData("860k")]
    [InlineData("1100k")]
    public void A_line_read_at_a_wrong_rate_is_accused_of_nothing_else(string rate)
    {
        JsonElement page = JsonDocument.Parse(ProgramRun.Of("survey", Sampled(1_000_000), "--rate", rate, "--json").Output).RootElement;
        string[] found = [.. page.GetProperty("findings").EnumerateArray().Select(finding => finding.GetProperty("id").GetString()!)];
        Assert.Contains("line-rate-doubtful", found);
        Assert.DoesNotContain(found, id => id is not ("line-rate-doubtful" or "line-sampled-coarsely"));
    }

    // A line as a recorder without a file format of its own leaves it: an octet a sample.
    private string Sampled(long rate)
    {
        LineSynthesiser line = new(5);
        line.Idle(500);
        for (int packet = 0; packet < 30; packet++)
        {
            line.Levels(new LineForm { Break = 176, MarkAfterBreak = 20, MarkBeforeBreak = 400 }, [.. Enumerable.Range(1, 512).Select(slot => unchecked((byte)(slot * 7)))]);
        }

        LineRecording recording = new(rate, [new LineTrack("x", line.Idle(500).Signal)]);
        byte[] samples = new byte[recording.Ends];
        byte level = 1;
        long from = 0;
        foreach (long edge in recording.EdgesOf(0).Append(recording.Ends))
        {
            samples.AsSpan((int)from, (int)(edge - from)).Fill(level);
            level ^= 1;
            from = edge;
        }

        string path = Path.Combine(_folder, "sampled.bin");
        File.WriteAllBytes(path, samples);
        return path;
    }

    private string Raw()
    {
        string path = Path.Combine(_folder, "line.bin");
        File.WriteAllBytes(path, [8, 8, 0, 0, 8]);
        return path;
    }
}
