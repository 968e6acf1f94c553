using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>What the bad units share, worked by hand.</summary>
public class UnitGroupingTests
{
    // Twelve units: two chains of six, units 1 to 6 on circuit A and B in turn.
    private static PatchSheet Sheet { get; } = new(
    [
        .. Enumerable.Range(1, 12).Select(n => new PatchUnit(
            $"U{n}", n % 3 == 0 ? "head" : "wash", "", 1, ((n - 1) * 20) + 1, "", n <= 6 ? "left" : "right", n % 2 == 0 ? "B" : "A", [], "", n) { ChainOrder = ((n - 1) % 6) + 1 }),
    ]);

    [Fact]
    public void The_tail_of_a_chain_is_named_with_the_place_where_it_breaks()
    {
        UnitGroup best = UnitGrouping.Of(Sheet, ["U4", "U5", "U6"])[0];
        Assert.Equal(UnitGroupKind.ChainTail, best.Kind);
        Assert.Equal("all after U3 in chain 'left'", best.Text);
        Assert.Equal(1, best.Gain, 3);
        Assert.Contains("at U4, take the cable that comes from U3", best.Check!.Text, StringComparison.Ordinal);
        Assert.True(best.Check.Ladder);
    }

    [Fact]
    public void A_whole_chain_is_halved_by_one_unplugging()
    {
        UnitGroup best = UnitGrouping.Of(Sheet, ["U1", "U2", "U3", "U4", "U5", "U6"])[0];
        Assert.Equal(UnitGroupKind.Chain, best.Kind);
        Assert.Contains("unplug chain 'left' between U3 and U4", best.Check!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_circuit_is_named_where_it_is_what_they_share() =>
        Assert.Equal(UnitGroupKind.Circuit, UnitGrouping.Of(Sheet, ["U2", "U4", "U6", "U8", "U10", "U12"])[0].Kind);

    [Fact]
    public void A_type_is_named_where_it_is_what_they_share() =>
        Assert.Equal("all of type head", UnitGrouping.Of(Sheet, ["U3", "U6", "U9", "U12"])[0].Text);

    // By hand: 12 units, 4 bad; H = 0.9183. The type "head" of 4 units holds 3 of them: 4/12 H(3/4) + 8/12 H(1/8) = 0.2704 + 0.3624;
    // gain (0.9183 - 0.6328) / 0.9183 = 0.31, less than half a bit's share: nothing is said.
    [Fact]
    public void A_label_that_tells_too_little_is_not_said() =>
        Assert.DoesNotContain(UnitGrouping.Of(Sheet, ["U3", "U6", "U9", "U1"]), group => group.Kind == UnitGroupKind.Model);

    [Fact]
    public void Two_bad_units_share_nothing_worth_saying() => Assert.Empty(UnitGrouping.Of(Sheet, ["U4", "U5"]));

    // Two that are exactly the end of a chain, or all of it, are said: it is one look at one cable.
    [Fact]
    public void Two_bad_units_at_the_end_of_a_chain_are_named() =>
        Assert.Equal("all after U4 in chain 'left'", Assert.Single(UnitGrouping.Of(Sheet, ["U5", "U6"])).Text);

    /// <summary>Chains of 2 to 32 units.</summary>
    public static TheoryData<int> Lengths => [.. Enumerable.Range(2, 31)];

    // The sheet lists the units in another order than the chain: the order of the chain decides.
    [Theory]
    [MemberData(nameof(Lengths))]
    public void The_next_check_of_a_chain_halves_what_is_left_of_it(int length)
    {
        string Name(int place) => $"L{place}";
        PatchSheet sheet = new(
        [
            .. Enumerable.Range(1, length).OrderBy(place => place * 7 % 33).Select(place => Unit(Name(place), place * 12 % 400, "left", place)),
            .. Enumerable.Range(1, 34).Select(place => Unit($"R{place}", 401 + place, "right", place)),
        ]);

        // All of it: one bad unit may load the line, and unplugging in the middle leaves half of them.
        UnitGroup whole = UnitGrouping.Of(sheet, [.. Enumerable.Range(1, length).Select(Name)])[0];
        Assert.Equal(UnitGroupKind.Chain, whole.Kind);
        int first = length / 2;
        Assert.Contains($"between {Name(first)} and {Name(first + 1)}.", whole.Check!.Text, StringComparison.Ordinal);
        Assert.True(Math.Abs(first - (length - first)) <= 1);

        // From a place on: what is left is the joint before it, and the check is at that joint.
        for (int from = 2; from <= length - 1; from++)
        {
            UnitGroup tail = UnitGrouping.Of(sheet, [.. Enumerable.Range(from, length - from + 1).Select(Name)])[0];
            Assert.Equal($"all after {Name(from - 1)} in chain 'left'", tail.Text);
            Assert.Contains($"at {Name(from)}, take the cable that comes from {Name(from - 1)} ", tail.Check!.Text, StringComparison.Ordinal);
        }

        // Scattered, most of it: again nothing parts the places, and the middle halves them.
        if (length >= 5)
        {
            UnitGroup most = UnitGrouping.Of(sheet, [.. Enumerable.Range(1, length).Where(place => place != (length / 2) + 1).Select(Name)])[0];
            Assert.Equal(UnitGroupKind.Chain, most.Kind);
            Assert.Contains($"between {Name(first)} and {Name(first + 1)}.", most.Check!.Text, StringComparison.Ordinal);
        }
    }

    // A chain without its order on the sheet has no middle that anybody could name.
    [Fact]
    public void A_chain_without_an_order_names_no_unplugging()
    {
        PatchSheet sheet = new([.. Sheet.Units.Select(unit => unit with { ChainOrder = 0 })]);
        UnitGroup best = UnitGrouping.Of(sheet, ["U1", "U2", "U3", "U4", "U5", "U6"])[0];
        Assert.Equal(UnitGroupKind.Chain, best.Kind);
        Assert.Null(best.Check);
    }

    // Each column of the sheet in its own words; the bad units are those of the sheet that it parts from the rest.
    [Theory]
    [InlineData(UnitGroupKind.Universe, "all of universe 2", "Look at what all of universe 2 have in common", "U7", "U8", "U9", "U10", "U11", "U12")]
    [InlineData(UnitGroupKind.HighSlots, "all from 1.061 (U4) on", "Read the mode off U4 and the unit before it, U3", "U4", "U5", "U6")]
    [InlineData(UnitGroupKind.Wireless, "all on radio link 'R1'", "Look at the transmitter of radio link 'R1'", "U1", "U5", "U9")]
    [InlineData(UnitGroupKind.Position, "all at 'truss'", "Ask what all units at 'truss' share", "U2", "U6", "U10")]
    [InlineData(UnitGroupKind.Circuit, "all on circuit 'B'", "Look at the breaker and the supply of circuit 'B'", "U3", "U7", "U11")]
    public void Each_kind_is_said_in_its_own_words(UnitGroupKind kind, string text, string check, params string[] bad)
    {
        PatchSheet sheet = new(
        [
            .. Enumerable.Range(1, 12).Select(n => new PatchUnit(
                $"U{n}", "wash", "", n <= 6 ? 1 : 2, (((n - 1) % 6) * 20) + 1, n % 4 == 2 ? "truss" : "", "", n % 4 == 3 ? "B" : "", [], "", n) { Wireless = n % 4 == 1 ? "R1" : "" }),
        ]);
        UnitGroup found = Assert.Single(UnitGrouping.Of(sheet, bad), group => group.Kind == kind && group.Gain > 1 - 1e-9);
        Assert.Equal(text, found.Text);
        Assert.StartsWith(check, found.Check!.Text, StringComparison.Ordinal);
        Assert.Equal(bad, found.Units);
    }

    // 200 universes of 30 units, each a chain: 12,000 labels of which two or three are said. Measured: all of them put into
    // words took 19.9 MB; the sheet grouped by its columns and what is said take 1.9.
    [Fact]
    public void Labels_that_are_not_said_are_not_put_into_words()
    {
        PatchSheet sheet = new([.. Enumerable.Range(0, 6_000).Select(n => Unit($"U{n}", ((n % 30) * 16) + 1, $"chain {(char)('A' + (n / 30 / 26))}{(char)('A' + (n / 30 % 26))}", (n % 30) + 1) with { Universe = (n / 30) + 1 })]);
        string[] bad = ["U26", "U27", "U28", "U29"];
        Assert.Equal("all after U25 in chain 'chain AA'", UnitGrouping.Of(sheet, bad)[0].Text);
        long before = GC.GetAllocatedBytesForCurrentThread();
        UnitGrouping.Of(sheet, bad);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 5_000_000);
    }

    private static PatchUnit Unit(string name, int address, string chain, int order) =>
        new(name, "dimmer", "", 1, Math.Max(1, address), "", chain, "", [], "", 2) { ChainOrder = order };

    [Fact]
    public void All_bad_units_share_nothing_that_parts_them() => Assert.Empty(UnitGrouping.Of(Sheet, [.. Sheet.Units.Select(unit => unit.Unit)]));

    [Fact]
    public void Gaps_in_the_tail_become_a_question()
    {
        UnitGroup? tail = UnitGrouping.Of(Sheet, ["U3", "U4", "U6"]).FirstOrDefault(group => group.Kind == UnitGroupKind.ChainTail && group.Text.Contains("U2", StringComparison.Ordinal));
        Assert.Contains("U5", tail!.Check!.Text, StringComparison.Ordinal);
        Assert.False(tail.Check.Ladder);
    }
}
