using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Fixtures.Tests.Patch;

public sealed class PatchSheetTests
{
    private static readonly PatchSheet Sheet = Sheets.Of(
        "LX1-1,dimmer,1-slot,1,1,", "LX1-2,dimmer,1-slot,1,2,", "LX1-3,dimmer,1-slot,1,3,", "FOH 1,dimmer,1-slot,1,4,", "Hazer,dimmer,1-slot,1,5,");

    [Fact]
    public void A_unit_is_found_in_any_case()
    {
        Assert.Equal(2, Sheet.Find("lx1-2")!.Address);
        Assert.Null(Sheet.Find("LX1-9"));
    }

    [Fact]
    public void The_first_of_two_units_of_one_name_is_found() =>
        Assert.Equal(7, Sheets.Of("A,dimmer,1-slot,1,7,", "a,dimmer,1-slot,1,8,").Find("A")!.Address);

    [Theory]
    [InlineData("a", "2,3")] // both, and the person is asked
    [InlineData("A line 3", "3")]
    [InlineData("a LINE 2", "2")]
    [InlineData("A line 4", "")]
    [InlineData("B line 4", "4")]
    [InlineData("desk line 9", "5")] // a name may end like that itself
    [InlineData("A line ", "")]
    [InlineData(" line 2", "")]
    [InlineData("A line 99999999999", "")]
    [InlineData("A line -2", "")]
    public void Of_several_units_of_one_name_the_line_says_which(string wanted, string lines) =>
        Assert.Equal(lines, string.Join(',', Sheets.Of("A,dimmer,1-slot,1,7,", "a,dimmer,1-slot,1,8,", "B,dimmer,1-slot,1,9,", "Desk line 9,dimmer,1-slot,1,10,").FindAll(wanted).Select(unit => unit.Line)));

    [Theory]
    [InlineData("LX1-22", "LX1-2,LX1-1,LX1-3")]
    [InlineData("LX9", "LX1-1,LX1-2,LX1-3")] // as near as FOH 1, and begins alike
    [InlineData("hazr", "Hazer")]
    [InlineData("FOH1", "FOH 1")]
    [InlineData("zzzzzzzzzzzzzz", "")]
    public void The_nearest_names_are_offered(string wanted, string names) => Assert.Equal(names, string.Join(',', Sheet.NearestNames(wanted, 3)));

    [Fact]
    public void A_very_long_name_is_looked_up_all_the_same() => Assert.Empty(Sheet.NearestNames(new string('x', 1_000_000), 3));
}
