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
    [InlineData("夜", "show")]
    [InlineData("", "show")]
    [InlineData("\ud800", "show")]
    [InlineData("--- --", "show")]
    public void A_name_becomes_a_folder_that_any_system_takes(string name, string folder) => Assert.Equal(folder, ArchiveNames.Slug(name, "show"));

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
