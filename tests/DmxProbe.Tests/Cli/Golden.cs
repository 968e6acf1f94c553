using DmxProbe.Testing.Files;

namespace DmxProbe.Tests.Cli;

/// <summary>
/// Expected outputs, in tests/DmxProbe.Tests/Golden. With DMXPROBE_UPDATE_GOLDEN=1 a differing one is written anew and
/// the test fails once, so that nobody rewrites one without looking at the change.
/// </summary>
internal static class Golden
{
    public const string UpdateVariable = "DMXPROBE_UPDATE_GOLDEN";

    public static void Matches(string name, string actual)
    {
        string path = Path.Combine(Places.Repository, "tests", "DmxProbe.Tests", "Golden", name + ".txt");
        string? expected = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : null;
        if (expected == actual)
        {
            return;
        }

        if (Environment.GetEnvironmentVariable(UpdateVariable) == "1")
        {
            File.WriteAllText(path, actual);
            Assert.Fail($"{name}: expectation written anew; look at the change (git diff), then run again without {UpdateVariable}");
        }

        Assert.True(expected is not null, $"{name}: there is no expectation yet; write it with {UpdateVariable}=1");
        Assert.Equal(expected, actual);
    }
}
