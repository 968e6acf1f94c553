using DmxProbe.Testing.Measuring;
using DmxProbe.Tui;

namespace DmxProbe.Tests.Tui;

/// <summary>What the views themselves allocate when what they show has not changed; the library's drawing is not in it.</summary>
public sealed class DrawingMemoryTests
{
    // 120 columns and 40 rows are 9,600 octets of text alone. A picture comes 2.5 times a second.
    [Theory]
    [InlineData("u", 2_000)]
    [InlineData("gLX1-6\nu", 2_500)]
    [InlineData("f", 4_000)]
    [InlineData("", 9_000)]
    [InlineData("gLX1-6\n", 16_000)]
    [InlineData("?", 7_000)]
    [InlineData("t", 42_000)]
    public void Drawing_what_has_not_changed_allocates_little(string keys, long most)
    {
        using ScreenWish wish = new();
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, wish, null, Hall.Guides());
        RigPicture picture = Hall.At(30, wish.Now);
        foreach (char key in keys)
        {
            screen.Rows(picture, 120, 40);
            screen.Press(key == '\n' ? new ScreenKey(KeyKind.Enter) : ScreenKey.Typed(key), picture);
            picture = Hall.At(30, wish.Now);
        }

        screen.Rows(picture, 120, 40);
        Assert.InRange(Allocations.Least(() => screen.Rows(picture, 120, 40)), 0, most);
    }

    [Fact]
    public void A_text_that_stood_there_lately_is_the_same_string_and_as_many_are_kept_as_two_screens_have()
    {
        string first = RowTexts.Of($"a {1,3} {Fitted.To("universe", 4)}|{Fitted.To("be", 4)}|{'x'}{2.5,6:0.00} {"r",-3}|");
        Assert.Equal("a   1 uni…|be  |x  2.50 r  |", first);
        Assert.Same(first, RowTexts.Of($"{"a   1 uni…|be  |x  2.50 r  |"}"));
        for (int text = 0; text < 300; text++)
        {
            RowTexts.Of($"row {text}");
        }

        Assert.NotSame(first, RowTexts.Of($"a {1,3} uni…|be  |x  2.50 r  |"));
    }

    [Fact]
    public void A_text_begun_within_another_comes_out_of_its_own()
    {
        static string Inner(int depth) => depth == 0 ? "" : RowTexts.Of($"[{depth}{Inner(depth - 1)}]");
        Assert.Equal("<[3[2[1]]]>", RowTexts.Of($"<{Inner(3)}>"));
        string wide = new('w', 5000);
        Assert.Equal("<" + wide + ">", RowTexts.Of($"<{RowTexts.Of($"{wide}")}>"));
    }

    [Theory]
    [InlineData("abcdef", 6)]
    [InlineData("abcdef", 5)]
    [InlineData("abcdef", 1)]
    [InlineData("abcdef", 0)]
    [InlineData("日本語", 5)]
    [InlineData("e\u0301e\u0301e\u0301", 2)]
    public void A_text_is_cut_as_any_other(string text, int width) =>
        Assert.Equal(Wrapped.Cut(text, width), RowTexts.Cut(width, $"{text}"));
}
