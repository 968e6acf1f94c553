using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Tests.Locate;

public class LightMovesTests
{
    [Fact]
    public void A_constant_light_never_moves() => Assert.Equal(0, Count(Enumerable.Repeat(0.5, 300)));

    [Fact]
    public void A_snap_is_one_move() => Assert.Equal(1, Count(Held(0, 50).Concat(Held(1, 50))));

    [Fact]
    public void A_fade_of_three_seconds_is_one_move() =>
        Assert.Equal(1, Count(Held(0.2, 50).Concat(Enumerable.Range(0, 90).Select(t => 0.2 + (t * 0.6 / 90))).Concat(Held(0.8, 50))));

    [Fact]
    public void A_flash_is_two_moves() => Assert.Equal(2, Count(Held(0, 50).Concat(Held(1, 3)).Concat(Held(0, 50))));

    [Fact]
    public void A_chase_of_five_flashes_is_ten_moves() =>
        Assert.Equal(10, Count(Enumerable.Range(0, 5).SelectMany(_ => Held(0, 20).Concat(Held(1, 7))).Concat(Held(0, 20))));

    [Fact]
    public void Two_fades_the_same_way_with_a_rest_between_are_two_moves() =>
        Assert.Equal(2, Count(Held(0, 50).Concat(Held(0.4, 50)).Concat(Held(0.8, 50))));

    [Fact]
    public void What_is_below_the_threshold_is_no_move() => Assert.Equal(0, Count(Held(0.5, 50).Concat(Held(0.51, 50))));

    private static IEnumerable<double> Held(double level, int samples) => Enumerable.Repeat(level, samples);

    private static int Count(IEnumerable<double> values) => LightMoves.Count(values.ToArray(), LightMoves.Threshold);
}
