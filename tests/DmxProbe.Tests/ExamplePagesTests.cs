using System.Text;

using DmxProbe.Testing.Files;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests;

/// <summary>
/// Holds the pages in docs/examples to what the commands printed in docs/report.md write, octet for octet. With
/// DMXPROBE_UPDATE_GOLDEN=1 those that differ are written anew.
/// </summary>
public sealed class ExamplePagesTests : IDisposable
{
    private const string Folder = "docs/examples/";
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public static TheoryData<string> Pages => [.. Commands().Keys];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Every_page_has_its_command() =>
        Assert.Equal(
            Directory.GetFiles(Path.Combine(Places.Repository, "docs", "examples"), "*.html").Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal),
            Commands().Keys.Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Pages))]
    public void The_page_is_what_its_command_writes(string name)
    {
        string made = Path.Combine(_folder, name);
        ProgramRun run = ProgramRun.Of([.. Commands()[name].Select(word => word == Folder + name ? made : word)]);
        Assert.Equal("", run.Error);
        Assert.InRange(run.Code, 0, 1);
        string committed = Path.Combine(Places.Repository, "docs", "examples", name);
        if (Environment.GetEnvironmentVariable(Golden.UpdateVariable) == "1" && (!File.Exists(committed) || !File.ReadAllBytes(made).SequenceEqual(File.ReadAllBytes(committed))))
        {
            File.Copy(made, committed, overwrite: true);
            Assert.Fail($"{name}: written anew; look at the page, then run again without {Golden.UpdateVariable}");
        }

        Assert.Equal(File.ReadAllText(committed), File.ReadAllText(made));
    }

    // The commands as the page prints them: four spaces in front, a backslash where a line goes on.
    private static Dictionary<string, string[]> Commands()
    {
        const string prompt = "    dmxprobe ";
        Dictionary<string, string[]> commands = [];
        string text = File.ReadAllText(Path.Combine(Places.Repository, "docs", "report.md")).ReplaceLineEndings("\n").Replace("\\\n", " ", StringComparison.Ordinal);
        foreach (string line in text.Split('\n').Where(line => line.StartsWith(prompt, StringComparison.Ordinal)))
        {
            string[] words = Words(line[prompt.Length..]);
            if (words.SingleOrDefault(word => word.StartsWith(Folder, StringComparison.Ordinal)) is string page)
            {
                commands.Add(page[Folder.Length..], words);
            }
        }

        return commands;
    }

    private static string[] Words(string line)
    {
        List<string> words = [];
        StringBuilder word = new();
        bool isQuoted = false;
        foreach (char character in line + " ")
        {
            if (character == '\'')
            {
                isQuoted = !isQuoted;
            }
            else if (character == ' ' && !isQuoted)
            {
                if (word.Length > 0)
                {
                    words.Add(word.ToString());
                }

                word.Clear();
            }
            else
            {
                word.Append(character);
            }
        }

        return [.. words];
    }
}
