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
