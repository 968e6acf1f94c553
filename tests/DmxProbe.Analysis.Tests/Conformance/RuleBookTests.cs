using DmxProbe.Analysis.Conformance;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Conformance;

/// <summary>The rules, the page that lists them, and the code that gives their findings, held together.</summary>
public class RuleBookTests
{
    [Fact]
    public void The_page_lists_every_rule_with_its_source_and_nothing_else()
    {
        string[] rows =
        [
            .. File.ReadLines(Path.Combine(Places.Repository, "docs", "network.md")).Where(line => line.StartsWith("| `", StringComparison.Ordinal)),
        ];

        Assert.Equal(RuleBook.All.Select(rule => $"| `{rule.Id}` | {rule.Text} | {rule.Source} |"), rows);
    }

    [Fact]
    public void Every_rule_has_its_own_id_and_some_code_that_uses_it()
    {
        Assert.Equal(RuleBook.All.Count, RuleBook.All.Select(rule => rule.Id).Distinct().Count());
        string folder = Path.Combine(Places.Repository, "src", "DmxProbe.Analysis", "Findings", "Rules");
        string code = string.Concat(Directory.EnumerateFiles(folder, "*.cs").Select(File.ReadAllText));
        Assert.Empty(RuleBook.All.Where(rule => !code.Contains($"\"{rule.Id}\"", StringComparison.Ordinal)).Select(rule => rule.Id));
    }

    // Clauses of standards that were not read are never printed as such (standards-facts: marks S and M).
    [Fact]
    public void What_was_not_read_is_never_given_as_a_bare_clause() => Assert.All(
        RuleBook.All.Where(rule => rule.Certainty != Certainty.Read || rule.Document.Contains("E1.11", StringComparison.Ordinal)),
        rule => Assert.True(
            rule.Source.Contains("secondary", StringComparison.Ordinal)
            || rule.Source.Contains("follows from", StringComparison.Ordinal)
            || rule.Source.Contains("no source", StringComparison.Ordinal)));
}
