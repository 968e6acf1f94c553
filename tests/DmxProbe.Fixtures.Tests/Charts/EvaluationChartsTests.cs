using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Fixtures.Tests.Charts;

public sealed class EvaluationChartsTests
{
    [Theory]
    [InlineData("dimmer", 1, false, new[] { 1 })]
    [InlineData("rgb", 3, true, new[] { 1, 2, 3 })]
    [InlineData("drgb", 4, true, new[] { 1, 2, 3, 4 })]
    [InlineData("rgbw-dimmer6", 6, true, new[] { 1, 2, 3, 4, 5, 6 })]
    [InlineData("wash10", 10, true, new[] { 1, 2, 3, 4, 5, 6 })]
    [InlineData("head16", 16, true, new[] { 7, 8, 10, 11, 12, 13 })]
    [InlineData("head14", 14, false, new[] { 6, 7, 8 })]
    public void Each_type_has_its_footprint_and_its_light_slots(string type, int footprint, bool usesColour, int[] lightSlots)
    {
        ChartMode mode = Assert.Single(EvaluationCharts.Of(type).Modes);
        LightModel model = new(mode);
        Assert.Equal(footprint, mode.Footprint);
        Assert.Equal(usesColour, model.UsesColour);
        Assert.Equal(lightSlots, model.LightSlots);
        Assert.DoesNotContain(mode.Slots, slot => slot.Role == SlotRole.Unknown);
    }

    [Fact]
    public void There_are_seven() => Assert.Equal(7, EvaluationCharts.All.Count);

    [Fact]
    public void The_wash_is_lit_only_with_its_shutter_open_and_no_macro()
    {
        LightModel wash = new(EvaluationCharts.Of("wash10").Modes[0]);
        Assert.Equal(new LightOutput(1, 0, 0, true), wash.Predict([255, 255, 255, 0, 0, 0, 0, 0, 0, 0]));
        Assert.Equal(new LightOutput(0, 0, 0, true), wash.Predict([255, 0, 255, 0, 0, 0, 0, 0, 0, 0]));
        Assert.False(wash.Predict([255, 255, 255, 0, 0, 0, 8, 0, 0, 0]).Predictable);
        Assert.False(wash.Predict([255, 255, 255, 0, 0, 0, 0, 0, 0, 205]).Predictable);
        Assert.False(wash.Predict([255, 100, 255, 0, 0, 0, 0, 0, 0, 0]).Predictable);
    }
}
