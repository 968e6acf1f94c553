using System.Security.Cryptography;

namespace DmxProbe.Tests.Cli;

/// <summary><c>report</c> over Harbour Hall and over rubbish.</summary>
public sealed class ReportCommandTests : IDisposable
{
    private const string Hall = "captures/harbour-hall/";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_hall_is_reported_with_its_three_faults_and_the_hashes_of_its_files()
    {
        string page = Report(
            1, Hall + "soundcheck.pcapng", Hall + "stage-left.vcd", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--trace", Hall + "lx1-6-trace.csv", "--workaround", "LX1-6 is not used");
        Assert.Contains("LX1-6 reads 1.016, not 1.061", page, StringComparison.Ordinal);
        Assert.Contains("two senders at the same priority", page, StringComparison.Ordinal);
        Assert.Contains("mark after break is outside the transmit limits", page, StringComparison.Ordinal);
        Assert.Contains("LX1-6 is not used", page, StringComparison.Ordinal);
        foreach (string file in new[] { "soundcheck.pcapng", "stage-left.vcd", "patch.csv", "lx1-6-trace.csv" })
        {
            Assert.Contains(Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(Hall + file))), page, StringComparison.Ordinal);
        }

        Assert.Equal(7, page.Split("<figure>").Length - 1);
    }

    [Fact]
    public void The_same_files_and_options_give_the_same_page()
    {
        string[] words = [Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv"];
        string first = Report(1, words);
        File.Delete(Path.Combine(_folder, "report.html"));
        Assert.Equal(first, Report(1, words));
    }

    [Fact]
    public void Units_drawn_together_are_drawn_as_each_alone()
    {
        string[] plain = Tables();
        string[] one = [.. Tables("--unit", "LX1-6").Except(plain)];
        string[] other = [.. Tables("--unit", "LX2-1").Except(plain)];
        Assert.NotEmpty(one);
        Assert.NotEmpty(other);
        Assert.Equal([.. one, .. other], Tables("--unit", "LX1-6", "--unit", "LX2-1").Except(plain));

        string[] Tables(params string[] units)
        {
            File.Delete(Path.Combine(_folder, "report.html"));
            return [.. Report(1, [Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", .. units]).Split("<table").Skip(1).Select(table => table[..table.IndexOf("</table>", StringComparison.Ordinal)])];
        }
    }

    [Theory]
    [InlineData("is a live input", "net")]
    [InlineData("put it into a file first", "-")]
    [InlineData("add --patch", Hall + "soundcheck.pcapng", "--unit", "LX1-6")]
    [InlineData("name the one with --unit", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--trace", Hall + "lx1-6-trace.csv")]
    [InlineData("has no unit 'nobody'", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "nobody")]
    [InlineData("nowhere.pcapng", "nowhere.pcapng")]
    public void What_cannot_be_reported_is_refused_and_leaves_no_file(string part, params string[] words)
    {
        Assert.Contains(part, ProgramRun.Of(["report", .. words, "-o", Path.Combine(_folder, "report.html")]).Refusal(), StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void A_capture_cut_off_is_reported_and_said_to_be_cut()
    {
        string cut = Path.Combine(_folder, "cut.pcapng");
        File.WriteAllBytes(cut, File.ReadAllBytes(Hall + "soundcheck.pcapng")[..40_000]);
        ProgramRun run = ProgramRun.Of("report", cut, "-o", Path.Combine(_folder, "report.html"));
        Assert.Equal(1, run.Code);
        Assert.DoesNotContain("no fault is in it", run.Output, StringComparison.Ordinal);
        Assert.Contains("ended early", run.Output, StringComparison.Ordinal);
        Assert.Contains("ends early", File.ReadAllText(Path.Combine(_folder, "report.html")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_that_exists_is_not_written_over()
    {
        string file = Path.Combine(_folder, "report.html");
        File.WriteAllText(file, "mine");
        Assert.Contains("nothing is written over", ProgramRun.Of("report", Hall + "soundcheck.pcapng", "-o", file).Refusal(), StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(file));
    }

    private string Report(int code, params string[] words)
    {
        string file = Path.Combine(_folder, "report.html");
        ProgramRun run = ProgramRun.Of(["report", .. words, "-o", file, "--utc"]);
        Assert.Equal("", run.Error);
        Assert.Equal(code, run.Code);
        return File.ReadAllText(file);
    }
}
