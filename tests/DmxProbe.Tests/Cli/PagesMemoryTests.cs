using DmxProbe.Cli;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Tests.Cli;

/// <summary>What writes pages and tables does not grow with its input. Alone, for the memory of other tests would count.</summary>
[Collection(nameof(PagesMemoryTests))]
[CollectionDefinition(nameof(PagesMemoryTests), DisableParallelization = true)]
public sealed class PagesMemoryTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("report", "-o", "page.html")]
    [InlineData("export", "--what=changes", "-o", "table.parquet")]
    [InlineData("export", "--what=frames", "-o", "table.csv")]
    public void A_recording_four_times_as_long_takes_no_more_memory(params string[] words)
    {
        string one = Show("one", 60);
        string four = Show("four", 240);
        string[] asked = [.. words[1..^1]];
        Peak(words[0], one, asked, "warm-" + words[^1]);
        long less = Peak(words[0], one, asked, "one-" + words[^1]);
        long more = Peak(words[0], four, asked, "four-" + words[^1]);

        // Of what stays alive; the table of 65,536 rows that Parquet gathers is in both.
        Assert.InRange(less, 1, int.MaxValue);
        Assert.InRange(more, 1, less + (24 << 20));
        if (words[^1].EndsWith("html", StringComparison.Ordinal))
        {
            Assert.InRange(new FileInfo(Path.Combine(_folder, "four-" + words[^1])).Length, 1, 5_000_000);
        }
    }

    private string Show(string name, int seconds)
    {
        string folder = Path.Combine(_folder, name);
        RecordedShow.Record(new CuedShow(new ShowPlan { Universes = 12, Seconds = seconds, ConstantRate = true }), folder, Duration.FromSeconds(600));
        return folder;
    }

    // Most memory alive at any look: the clock is looked at all along.
    private long Peak(string command, string input, string[] words, string file)
    {
        Hurrying clock = new() { IsMeasuring = true };
        (int code, _, string error) = Run([command, input, .. words, Path.Combine(_folder, file)], clock);
        Assert.True(code is 0 or 1, error);
        return clock.Most;
    }

    private static (int Code, string Output, string Error) Run(string[] words, TimeProvider clock)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        int code = DmxProbeProgram.Run(words, new ProgramHost(output, error, 120, false, TimeZoneInfo.Utc, default) { Clock = clock, IsTerminal = true });
        return (code, output.ToString(), error.ToString());
    }
}
