using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Files;

namespace DmxProbe.Fixtures.Tests;

public sealed class DocumentTests
{
    [Fact]
    public void The_examples_of_the_document_are_read()
    {
        string[] lines = File.ReadAllLines(Path.Combine(Places.Repository, "docs", "charts-and-sheets.md"));
        using StringReader chart = new(Example(lines, "mode,"));
        using StringReader sheet = new(Example(lines, "unit,"));
        Assert.Empty(ChartReader.Read("example", chart).Problems);
        PatchReading reading = PatchReader.Read(sheet);
        Assert.Empty(reading.Problems);
        Assert.Empty(PatchCheck.Check(reading.Sheet!, Patch.Sheets.Charts));
    }

    private static string Example(string[] lines, string header) => string.Join('\n', lines
        .SkipWhile(line => !line.StartsWith("    " + header, StringComparison.Ordinal)).TakeWhile(line => line.StartsWith("    ", StringComparison.Ordinal)).Select(line => line.Trim()));
}
