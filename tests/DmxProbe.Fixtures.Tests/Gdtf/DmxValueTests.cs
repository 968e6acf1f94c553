using DmxProbe.Fixtures.Gdtf;

namespace DmxProbe.Fixtures.Tests.Gdtf;

/// <summary>Against the worked values of the public GDTF text (table 1, DMXValue) and standards-facts.md G1 and G4.</summary>
public sealed class DmxValueTests
{
    [Theory]
    [InlineData("255/1", 2, 65535)] // GDTF table 1
    [InlineData("255/1s", 2, 65280)] // GDTF table 1
    [InlineData("128/1", 2, 32896)]
    [InlineData("1/1", 2, 257)]
    [InlineData("0/1", 4, 0)]
    [InlineData("255/1", 4, 4294967295)]
    [InlineData("128/1", 1, 128)]
    [InlineData("32767/2", 2, 32767)]
    [InlineData("32896/2", 1, 128)]
    [InlineData("4660/2", 3, 1192978)] // 1234h repeated: 123412h
    [InlineData("4660/2s", 3, 1192960)] // 123400h
    [InlineData("12/255", 1, 12)] // an impossible width counts as one byte
    [InlineData("12", 1, 12)]
    [InlineData(" 12 / 1 ", 1, 12)]
    public void A_value_is_brought_to_other_widths_by_repeating_its_bytes_unless_shifted(string text, int bytes, long expected)
    {
        Assert.True(DmxValue.TryParse(text, out DmxValue value));
        Assert.Equal(expected, value.At(bytes));
    }

    [Theory]
    [InlineData("147/1", 1, 147)]
    [InlineData("0/1", 2, 256)] // up to the step before 1/1 = 257
    [InlineData("255/1", 2, 65535)]
    [InlineData("127/1", 2, 32895)]
    [InlineData("1000/2", 2, 1000)]
    public void The_end_of_a_range_reaches_to_the_next_value(string text, int bytes, long expected)
    {
        Assert.True(DmxValue.TryParse(text, out DmxValue value));
        Assert.Equal(expected, value.EndAt(bytes));
    }

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("None")]
    [InlineData("-32385/1")]
    [InlineData("256/1")]
    [InlineData("1e3/2")]
    [InlineData("/1")]
    [InlineData("99999999999999999999/4")]
    public void What_is_no_value_is_said_to_be_none(string? text) => Assert.False(DmxValue.TryParse(text, out _));
}
