using System.Globalization;
using System.Text;

using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Tests.Text;

public class PrintableTests
{
    [Theory]
    [InlineData("Main controller")]
    [InlineData("Bühne links")]
    [InlineData("舞台 左")]
    [InlineData("e\u0301") /* a letter with one combining mark */]
    [InlineData("💡 desk")]
    [InlineData("[red]not markup[/]")]
    [InlineData("C:\\shows\\tonight.pcap")]
    [InlineData("")]
    public void Ordinary_names_of_any_script_stay_as_they_are(string name) => Assert.Equal(name, Printable.Text(name));

    [Theory]
    [InlineData("a\u001b[2Jb", "a\\u001B[2Jb")]
    [InlineData("tab\there", "tab\\u0009here")]
    [InlineData("two\r\nlines", "two\\u000D\\u000Alines")]
    [InlineData("nul\0", "nul\\u0000")]
    [InlineData("del\u007f", "del\\u007F")]
    [InlineData("c1 \u009b31m", "c1 \\u009B31m")]
    [InlineData("\u202eevil", "\\u202Eevil")]
    [InlineData("\u2066isolate\u2069", "\\u2066isolate\\u2069")]
    [InlineData("zero\u200bwidth\u200d\ufeff", "zero\\u200Bwidth\\u200D\\uFEFF")]
    [InlineData("soft\u00adhyphen", "soft\\u00ADhyphen")]
    [InlineData("line\u2028para\u2029", "line\\u2028para\\u2029")]
    [InlineData("filler\u3164", "filler\\u3164")]
    [InlineData("tag\U000E0041", "tag\\uDB40\\uDC41")]
    [InlineData("private\ue000", "private\\uE000")]
    public void What_a_terminal_obeys_or_hides_is_written_out(string name, string expected) =>
        Assert.Equal(expected, Printable.Text(name));

    [Fact]
    public void Half_a_surrogate_pair_is_written_out()
    {
        Assert.Equal("\\uD83D", Printable.Text(new string((char)0xD83D, 1)));
        Assert.Equal("a\\uDCA1b", Printable.Text("a" + (char)0xDCA1 + "b"));
    }

    [Fact]
    public void A_third_mark_on_one_letter_is_written_out() =>
        Assert.Equal("e\u0301\u0302\\u0303", Printable.Text("e\u0301\u0302\u0303"));

    [Fact]
    public void No_text_is_no_text() => Assert.Equal("", Printable.Text(null));

    [Fact]
    public void Nothing_that_random_text_holds_reaches_the_terminal_as_a_control()
    {
        Random random = new(20260314);
        for (int round = 0; round < 20_000; round++)
        {
            StringBuilder text = new();
            for (int i = random.Next(1, 12); i > 0; i--)
            {
                text.Append((char)random.Next(0, 0x10000));
            }

            string shown = Printable.Text(text.ToString());
            foreach (Rune rune in shown.EnumerateRunes())
            {
                UnicodeCategory category = Rune.GetUnicodeCategory(rune);
                Assert.False(
                    category is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator
                        or UnicodeCategory.ParagraphSeparator or UnicodeCategory.Surrogate,
                    $"U+{rune.Value:X4} got through");
            }

            // Half pairs would show up as replacement characters that the input does not hold.
            Assert.Equal(text.ToString().Contains('\uFFFD'), shown.Contains('\uFFFD'));
        }
    }
}
