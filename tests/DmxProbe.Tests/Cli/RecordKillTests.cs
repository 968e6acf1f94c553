using DmxProbe.Testing.Recording;

namespace DmxProbe.Tests.Cli;

/// <summary>A few moments here; fifty with <c>DmxProbe.Benchmarks -- record-kill</c>.</summary>
public sealed class RecordKillTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-kill-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(600)]
    [InlineData(1_730)]
    [InlineData(2_410)] // across the change of segments
    public void A_killed_recording_keeps_all_but_the_last_second(int milliseconds)
    {
        KillOutcome outcome = KillTrial.Run(
            Path.Combine(AppContext.BaseDirectory, "dmxprobe.dll"), _folder, 2_000, TimeSpan.FromMilliseconds(milliseconds));
        Assert.True(outcome.InOrder, outcome.ToString());
        Assert.InRange(outcome.Left, Math.Max(1, outcome.SentASecondBefore), outcome.Sent);

        // What is left is an input like any other.
        ProgramRun survey = ProgramRun.Of("survey", _folder, "--json");
        Assert.Equal("", survey.Error);
        Assert.Contains($"\"records\": {outcome.Left},", survey.Output, StringComparison.Ordinal);
    }
}
