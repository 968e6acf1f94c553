using System.Text;

using DmxProbe.Testing.Files;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests;

/// <summary>Holds the outputs printed in docs/soundcheck.md to the program's own. With DMXPROBE_UPDATE_GOLDEN=1 they are written anew.</summary>
public sealed class SoundcheckPageTests
{
    private const string Prompt = "    $ dmxprobe ";
    private const int Width = 120;

    [Fact]
    public void The_page_prints_what_the_program_prints()
    {
        string path = Path.Combine(Places.Repository, "docs", "soundcheck.md");
        string page = File.ReadAllText(path).ReplaceLineEndings("\n");
        StringBuilder expected = new();
        int commands = 0;
        bool inside = false;
        foreach (string line in page.TrimEnd('\n').Split('\n'))
        {
            if (line.StartsWith(Prompt, StringComparison.Ordinal))
            {
                ProgramRun run = ProgramRun.At(Width, line[Prompt.Length..].Split(' '));
                Assert.Equal("", run.Error);
                Assert.InRange(run.Code, 0, 1);
                string output = string.Concat(run.Output.TrimEnd('\n').Split('\n').Select(text => text.Length > 0 ? "    " + text + "\n" : "\n"));
                expected.Append(line).Append("\n\n").Append(output);
                inside = true;
                commands++;
            }
            else if (inside && (line.Length == 0 || line.StartsWith("    ", StringComparison.Ordinal)))
            {
                continue; // what was printed before
            }
            else
            {
                expected.Append(inside ? "\n" : "").Append(line).Append('\n');
                inside = false;
            }
        }

        Assert.Equal(5, commands);
        if (expected.ToString() != page && Environment.GetEnvironmentVariable(Golden.UpdateVariable) == "1")
        {
            File.WriteAllText(path, expected.ToString());
            Assert.Fail($"docs/soundcheck.md: outputs written anew; look at the change (git diff), then run again without {Golden.UpdateVariable}");
        }

        Assert.Equal(expected.ToString(), page);
    }
}
