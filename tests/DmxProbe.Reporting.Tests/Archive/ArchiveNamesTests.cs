using DmxProbe.Reporting.Archive;

namespace DmxProbe.Reporting.Tests.Archive;

public class ArchiveNamesTests
{
    [Theory]
    [InlineData("The Glass Orchard", "the-glass-orchard")]
    [InlineData("Pêcheurs d’Islande / acte 2", "pecheurs-d-islande-acte-2")]
    [InlineData("../../etc/passwd", "etc-passwd")]
    [InlineData("a=b/c\\d:e*f?", "a-b-c-d-e-f")]
    [InlineData("\u001b[2J\0\r\n", "2j")]
    [InlineData("C:\\Windows\\..\\x", "c-windows-x")]
    [InlineData("CON", "con")]
    [InlineData("aux.txt", "aux-txt")]
    [InlineData("a\0b", "a-b")]
    [InlineData(".", "show-2b0c98f1")]
    [InlineData("Ｇｌａｓｓ", "show-406d9a92")]
    [InlineData("🎭", "show-54d750f5")]
    [InlineData("", "show-811c9dc5")]
    [InlineData("\ud800", "show-feca55a8")]
    [InlineData("--- --", "show-a7e7f440")]
    public void A_name_becomes_a_folder_that_any_system_takes(string name, string folder) => Assert.Equal(folder, ArchiveNames.Slug(name, "show"));

    [Fact]
    public void Two_names_that_lose_their_letters_or_their_ends_stay_two()
    {
        Assert.Matches("^show-[0-9a-f]{8}$", ArchiveNames.Slug("夜", "show"));
        Assert.NotEqual(ArchiveNames.Slug("夜", "show"), ArchiveNames.Slug("朝", "show"));
        Assert.Equal(4, new[] { "///", "???", "show", "🎭" }.Select(name => ArchiveNames.Slug(name, "show")).Distinct().Count());
        string longest = new('a', 60);
        Assert.Equal(longest, ArchiveNames.Slug(longest, "show"));
        Assert.NotEqual(ArchiveNames.Slug(longest + "b", "show"), ArchiveNames.Slug(longest + "c", "show"));
        Assert.Equal(60, ArchiveNames.Slug(new string('a', 100_000), "show").Length);
    }

    [Fact]
    public void Whatever_the_name_the_folder_has_letters_digits_and_hyphens_only()
    {
        Random random = new(5);
        for (int trial = 0; trial < 2_000; trial++)
        {
            char[] name = [.. Enumerable.Range(0, random.Next(0, 200)).Select(_ => (char)random.Next(0, 65_536))];
            Assert.Matches("^[a-z0-9]([a-z0-9-]{0,58}[a-z0-9])?$", ArchiveNames.Slug(new string(name), "show"));
        }
    }
}
