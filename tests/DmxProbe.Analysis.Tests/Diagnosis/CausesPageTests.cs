using DmxProbe.Testing.Diagnosis;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>docs/causes.md says what the classes say.</summary>
public class CausesPageTests
{
    private const string Variable = "DMXPROBE_UPDATE_GOLDEN";

    [Fact]
    public void The_page_of_causes_is_what_the_classes_say()
    {
        string path = Path.Combine(Places.Repository, "docs", "causes.md");
        string found = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : "";
        int hand = found.IndexOf(CausesPage.HandWritten, StringComparison.Ordinal);
        string byHand = hand < 0 ? CausesPage.HandWritten : found[hand..];
        string expected = CausesPage.Generated() + byHand;
        if (found != expected && Environment.GetEnvironmentVariable(Variable) == "1")
        {
            File.WriteAllText(path, expected);
            Assert.Fail($"docs/causes.md written anew; look at the change, then run again without {Variable}");
        }

        Assert.Equal(expected, found);
    }
}
