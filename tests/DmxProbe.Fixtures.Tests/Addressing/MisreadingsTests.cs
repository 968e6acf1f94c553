using DmxProbe.Fixtures.Addressing;

namespace DmxProbe.Fixtures.Tests.Addressing;

public sealed class MisreadingsTests
{
    [Fact]
    public void The_switch_bank_from_the_other_end_turns_121_into_316() => Assert.Equal(316, Misreadings.Reversed(121));

    [Fact]
    public void The_switch_bank_inverted_turns_121_into_390() => Assert.Equal(390, Misreadings.Inverted(121));

    [Fact]
    public void Reversing_and_inverting_twice_gives_the_number_back() => Assert.All(Enumerable.Range(0, 512), value =>
    {
        Assert.Equal(value, Misreadings.Reversed(Misreadings.Reversed(value)));
        Assert.Equal(value, Misreadings.Inverted(Misreadings.Inverted(value)));
    });

    [Theory]
    [InlineData("109", 601)]
    [InlineData("601", 109)]
    [InlineData("61", 19)]
    [InlineData("061", 190)]
    [InlineData("8", 8)]
    [InlineData("137", null)]
    [InlineData("4", null)]
    [InlineData("1x", null)]
    public void A_display_read_upside_down_turns_the_digits(string digits, int? turned) => Assert.Equal(turned, Misreadings.UpsideDown(digits));

    [Theory]
    [InlineData(137, new[] { 317, 173 })]
    [InlineData(61, new[] { 601, 16 })]
    [InlineData(5, new[] { 50 })]
    [InlineData(111, new int[0])]
    public void Swapped_digits_are_neighbours(int address, int[] swapped) => Assert.Equal(swapped, Misreadings.Swapped(address));

    [Fact]
    public void One_digit_off_keeps_the_number_of_digits()
    {
        Assert.Equal([.. Enumerable.Range(1, 9).Where(digit => digit != 5)], Misreadings.OneDigitOff(5));
        int[] near = [.. Misreadings.OneDigitOff(137)];
        Assert.Equal(9 + 9 + 8, near.Distinct().Count());
        Assert.All(near, other => Assert.InRange(other, 100, 999));
        Assert.Contains(187, near);
        Assert.DoesNotContain(137, near);
    }
}
