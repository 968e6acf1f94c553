using DmxProbe.Cli;

namespace DmxProbe.Tests.Cli;

/// <summary>Long runs of what writes pages and tables: a person sees how far it is, Ctrl-C leaves no half file.</summary>
public sealed class PagesLongRunTests : IDisposable
{
    private const string Capture = "captures/harbour-hall/soundcheck.pcapng";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public static TheoryData<string[]> Commands =>
    [
        ["report", Capture, "-o"],
        ["timing", Capture, "--report"],
        ["export", Capture, "--what", "frames", "-o"],
    ];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(Commands))]
    public void A_run_that_takes_long_says_how_far_it_is_on_a_terminal_and_wipes_it_away(string[] words)
    {
        (int code, string output, string error) = Run(words, isTerminal: true, new Hurrying(), default);
        Assert.InRange(code, 0, 1);
        Assert.Contains($"\r{words[0]}: ", error, StringComparison.Ordinal);
        Assert.EndsWith("\r\u001b[K", error, StringComparison.Ordinal);
        Assert.DoesNotContain('\r', output);
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public void Where_nobody_looks_nothing_is_drawn(string[] words) => Assert.Equal("", Run(words, isTerminal: false, new Hurrying(), default).Error);

    [Theory]
    [MemberData(nameof(Commands))]
    public void Ctrl_C_at_any_moment_leaves_no_file_and_no_half_of_one(string[] words)
    {
        // After so many looks at the clock a person presses: at the start, in the middle of the reading, while hashing.
        foreach (int looks in new[] { 1, 2, 3, 4, 6, 9, 14 })
        {
            using CancellationTokenSource stop = new();
            (int code, _, string error) = Run(words, isTerminal: true, new Hurrying(looks, stop), stop.Token);
            if (stop.IsCancellationRequested)
            {
                Assert.Equal(ExitCode.Interrupted, code);
                Assert.DoesNotContain("fault of this program", error, StringComparison.Ordinal);
                Assert.Contains("dmxprobe: stopped; nothing was written.", error, StringComparison.Ordinal);
                Assert.Empty(Directory.GetFileSystemEntries(_folder));
            }
            else
            {
                Array.ForEach(Directory.GetFiles(_folder), File.Delete);
            }
        }
    }

    private (int Code, string Output, string Error) Run(string[] words, bool isTerminal, TimeProvider clock, CancellationToken stop)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        string name = words[0] == "export" ? "table.csv" : "page.html";
        int code = DmxProbeProgram.Run([.. words, Path.Combine(_folder, name)], new ProgramHost(output, error, 120, false, TimeZoneInfo.Utc, stop) { Clock = clock, IsTerminal = isTerminal });
        return (code, output.ToString(), error.ToString());
    }
}
