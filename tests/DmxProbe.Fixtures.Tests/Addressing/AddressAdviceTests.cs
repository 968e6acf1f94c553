using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tests.Patch;

namespace DmxProbe.Fixtures.Tests.Addressing;

public sealed class AddressAdviceTests
{
    private static readonly PatchSheet Sheet = Sheets.Of(
        "A,wash10,10-slot,1,1,", "B,wash10,10-slot,1,21,", "C,wash10,10-slot,2,11,", "T1,rgb,3-slot,1,41,T2", "T2,rgb,3-slot,1,41,");

    [Theory]
    [InlineData(1, 11, 10, null, true, "")]
    [InlineData(1, 10, 10, null, true, "A")]
    [InlineData(1, 11, 11, null, true, "B")]
    [InlineData(1, 5, 20, null, true, "A,B")]
    [InlineData(1, 5, 20, "a", true, "B")]
    [InlineData(2, 1, 10, null, true, "")]
    [InlineData(3, 1, 512, null, true, "")]
    [InlineData(3, 503, 10, null, true, "")]
    [InlineData(3, 504, 10, null, false, "")]
    [InlineData(1, 41, 3, "T1", true, "")]
    public void A_range_is_free_when_it_fits_and_no_other_unit_is_there(int universe, int address, int footprint, string? except, bool fits, string takenBy)
    {
        AddressAdvice advice = AddressAdvice.For(Sheet, Sheets.Charts, universe, address, footprint, except is null ? null : Sheet.Find(except));
        Assert.Equal(fits, advice.Fits);
        Assert.Equal(takenBy, string.Join(',', advice.TakenBy.Select(unit => unit.Unit)));
        Assert.Equal(fits && takenBy.Length == 0, advice.Free);
    }
}
