using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tests.Patch;

namespace DmxProbe.Fixtures.Tests.Addressing;

/// <summary>The errors of the trade: common practice, no source. The figures are computed by hand from each rule.</summary>
public sealed class HumanErrorsTests
{
    [Theory]
    [InlineData(61, 61, "as the sheet says")]
    [InlineData(61, 16, "digits swapped")]
    [InlineData(137, 173, "digits swapped")]
    [InlineData(61, 62, "one too high: the unit counts from 0")]
    [InlineData(61, 60, "one too low: 1 was taken off, as for a unit that counts from 0")]
    [InlineData(121, 316, "read from the wrong end of the switch bank")]
    [InlineData(121, 390, "ON and OFF exchanged on the switch bank")]
    [InlineData(121, 105, "one address switch is wrong: switch 5 (counts 16) is off instead of ON")]
    [InlineData(121, 377, "one address switch is wrong: switch 9 (counts 256) is ON instead of off")]
    [InlineData(61, 190, "display read upside down")]
    [InlineData(121, 1, "still at address 1, as it comes from the factory")]
    [InlineData(121, 181, "one digit is wrong")]
    [InlineData(121, 131, "shifted up by one unit: a footprint before it is wrong on the sheet")]
    [InlineData(121, 91, "shifted down by 3 units: a footprint before it is wrong on the sheet")]
    public void An_error_leads_to_its_address_and_has_its_words(int sheet, int address, string explanation)
    {
        AddressCandidate candidate = Assert.Single(HumanErrors.Candidates(1, sheet, 10, [], []), candidate => candidate is { Universe: 1, Mode: null } && candidate.Address == address);
        Assert.Contains(explanation, candidate.Explanations);
    }

    [Fact]
    public void An_address_that_no_unit_can_be_set_to_is_no_candidate()
    {
        // 109 upside down is 601.
        Assert.All(HumanErrors.Candidates(0, 109, 512, [], []), candidate =>
        {
            Assert.InRange(candidate.Address, 1, 512);
            Assert.True(candidate.Universe >= 0);
        });
    }

    [Theory]
    [InlineData(21, "the universe is numbered from 0 in one place and from 1 in another")]
    [InlineData(19, "the universe is numbered from 0 in one place and from 1 in another")]
    [InlineData(36, "the universe is off by 16: typed into the wrong box of Net, Sub-Net and Universe")]
    [InlineData(4, "the universe is off by 16: typed into the wrong box of Net, Sub-Net and Universe")]
    [InlineData(7, "plugged into the line of universe 7")]
    public void The_universe_may_be_wrong_as_well(int universe, string explanation)
    {
        IReadOnlyList<AddressCandidate> candidates = HumanErrors.Candidates(20, 61, 10, [new OtherAddress("X", 7, 300)], []);
        Assert.Equal(explanation, Assert.Single(candidates, candidate => candidate.Universe == universe && candidate.Address == 61).Explanation);
    }

    [Fact]
    public void The_addresses_of_others_are_candidates_and_neighbours_weigh_more()
    {
        PatchSheet sheet = Sheets.Of("A,wash10,10-slot,1,201,", "B,wash10,10-slot,1,224,", "C,wash10,10-slot,1,247,", "D,wash10,10-slot,1,293,");
        IReadOnlyList<AddressCandidate> candidates = HumanErrors.Candidates(sheet.Find("B")!, 10, sheet, []);
        AddressCandidate a = At(candidates, 201), d = At(candidates, 293);
        Assert.Equal("has the address of its neighbour 'A'", a.Explanation);
        Assert.Equal("has the address of 'D'", d.Explanation);
        Assert.True(a.Weight > d.Weight);
        static AddressCandidate At(IReadOnlyList<AddressCandidate> all, int address) => Assert.Single(all, candidate => candidate.Universe == 1 && candidate.Address == address);
    }

    [Fact]
    public void Other_modes_are_candidates_at_the_sheets_address()
    {
        IReadOnlyList<AddressCandidate> candidates = HumanErrors.Candidates(1, 61, 10, [], ["16-slot", "8-slot"]);
        Assert.Equal(["16-slot", "8-slot"], candidates.Where(candidate => candidate.Mode is not null).Select(candidate => candidate.Mode));
        Assert.All(candidates.Where(candidate => candidate.Mode is not null), candidate => Assert.Equal((1, 61), (candidate.Universe, candidate.Address)));
    }

    [Fact]
    public void Each_place_is_there_once_and_the_weights_sum_to_at_most_1_for_every_address()
    {
        OtherAddress[] others = [.. Enumerable.Range(0, 40).Select(i => new OtherAddress("U" + i, 1 + (i % 3), 1 + (12 * i)))];
        for (int address = 1; address <= 512; address++)
        {
            IReadOnlyList<AddressCandidate> candidates = HumanErrors.Candidates(2, address, 10, others, ["other"]);
            Assert.Equal(candidates.Count, candidates.DistinctBy(candidate => (candidate.Universe, candidate.Address, candidate.Mode)).Count());
            // Towards the ends of a universe fewer errors lead to an address.
            Assert.InRange(candidates.Sum(candidate => candidate.Weight), address is > 100 and < 400 ? 0.8 : 0.7, 1 + 1e-9);
            Assert.Equal((2, address), (candidates[0].Universe, candidates[0].Address));
            Assert.InRange(candidates.Count, 60, 200);
            Assert.Equal([.. candidates.OrderByDescending(candidate => candidate.Weight).Select(candidate => candidate.Weight)], candidates.Select(candidate => candidate.Weight));
        }
    }
}
