using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Fixtures.Tests.Patch;

/// <summary>What a sheet proves by itself beyond single addresses: footprints, spacing, chains, modes.</summary>
public sealed class SheetProofTests
{
    private static readonly ChartSet Charts = new(EvaluationCharts.All);

    [Fact]
    public void A_range_that_is_not_as_long_as_the_mode_is_a_fault()
    {
        PatchFinding finding = Assert.Single(Check("unit,type,mode,address\nA,wash10,10-slot,1.1-16\n"));
        Assert.Equal((PatchCheck.FootprintDiffers, "unit 'A' takes 16 slots by the sheet, 10 by the chart of mode '10-slot'"), (finding.Id, finding.Text));
        Assert.Empty(Check("unit,type,mode,address\nA,wash10,10-slot,1.1-10\n"));
    }

    [Fact]
    public void Equal_overlaps_of_one_type_are_one_wrong_mode()
    {
        PatchFinding finding = Assert.Single(Check("unit,type,mode,address\n" + string.Concat(Enumerable.Range(0, 6).Select(i => $"H{i},head16,16-slot,1.{1 + (i * 12):000}\n"))));
        Assert.Equal(PatchCheck.SpacingTooNarrow, finding.Id);
        Assert.Equal("the 6 units of 'head16' in universe 1 stand 12 slots apart, but mode '16-slot' takes 16 (5 overlaps)", finding.Text);
        Assert.Equal(6, finding.Units.Count);
    }

    [Fact]
    public void One_overlap_among_many_units_stays_an_overlap() =>
        Assert.Equal(PatchCheck.AddressOverlap, Assert.Single(Check("unit,type,mode,address\nA,head16,16-slot,1.001\nB,head16,16-slot,1.017\nC,head16,16-slot,1.030\nD,head16,16-slot,1.049\n")).Id);

    [Fact]
    public void A_chain_carries_one_universe_each_place_once_and_32_units()
    {
        Assert.Equal([PatchCheck.ChainOfTwoUniverses], Check("unit,type,mode,address,chain\nA,rgb,3-slot,1.1,left 1\nB,rgb,3-slot,1.4,left 2\nC,rgb,3-slot,2.1,left 3\n").Select(finding => finding.Id));
        PatchFinding twice = Assert.Single(Check("unit,type,mode,address,chain,order\nA,rgb,3-slot,1.1,left,1\nB,rgb,3-slot,1.4,left,2\nC,rgb,3-slot,1.7,left,2\n"));
        Assert.Equal((PatchCheck.ChainOrderTwice, "place 2 of chain 'left' is given to 'B' and 'C'"), (twice.Id, twice.Text));
        string Chain(int units) => "unit,type,mode,address,chain\n" + string.Concat(Enumerable.Range(0, units).Select(i => $"A{i},dimmer,1-slot,1.{1 + i:000},left\n"));
        Assert.Empty(Check(Chain(32)));
        Assert.Equal(PatchCheck.ChainTooLong, Assert.Single(Check(Chain(33))).Id);
    }

    [Theory]
    [InlineData("wash10", "10ch", "10-slot")]
    [InlineData("wash10", "mode 10 slots", "10-slot")]
    [InlineData("Wash-10", "10 SLOT", "10-slot")]
    [InlineData("wash10", "", "10-slot")]
    [InlineData("wash10", "11ch", "11ch")]
    [InlineData("wash10", "mode 10", "mode 10")]
    [InlineData("nothing", "10ch", "10ch")]
    public void A_mode_is_found_by_its_slots_where_there_is_one_reading(string type, string mode, string expected)
    {
        using StringReader text = new($"unit,type,mode,address\nA,{type},{mode},1.1\n");
        PatchSheet sheet = PatchModes.Resolve(PatchReader.Read(text).Sheet!, Charts, out IReadOnlyList<string> notes);
        Assert.Equal(expected, sheet.Units[0].Mode);
        Assert.Equal(expected == mode ? 0 : 1, notes.Count);
    }

    [Fact]
    public void Slots_that_can_hurt_are_listed_with_their_addresses()
    {
        ChartSet charts = new([new Chart("hazer", [new ChartMode("m", [new ChartSlot(1, "Fan", SlotRole.Speed, []), new ChartSlot(2, "Haze", SlotRole.Hazard, [])], 2)])]);
        using StringReader text = new("unit,type,mode,address\nHZ,hazer,m,2.201\nA,unknown,m,2.1\n");
        DangerousSlots dangerous = Assert.Single(DangerousSlots.Of(PatchReader.Read(text).Sheet!, charts));
        Assert.Equal(new DangerousSlot(2, 202, "Haze", "can hurt"), Assert.Single(dangerous.Slots));
    }

    private static IReadOnlyList<PatchFinding> Check(string sheet)
    {
        using StringReader text = new(sheet);
        return PatchCheck.Check(PatchReader.Read(text).Sheet!, Charts);
    }
}
