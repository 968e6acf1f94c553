using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Fixtures.Tests.Light;

/// <summary>Slots that mean something else while another slot is in a range.</summary>
public sealed class DependentLightTests
{
    private const string Head = "mode,slot,function,from,to,meaning,when,cell\n";

    [Fact]
    public void A_dependent_dimmer_is_followed_at_the_edges_of_the_condition()
    {
        LightModel model = Model("m,1,Dimmer,0,255,,,\nm,1,Dimmer,0,255,no function,2:10-20,\nm,2,Zoom,0,255,,,\n");
        Assert.Equal([1f, 0, 0, 1], new byte[] { 9, 10, 20, 21 }.Select(zoom => model.Predict([255, zoom]).Red));
        Assert.Equal([1, 2], model.LightSlots); // the master changes the light
    }

    [Fact]
    public void A_condition_for_a_part_of_the_values_leaves_the_rest_as_it_is()
    {
        LightModel model = Model("m,1,Dimmer,0,255,,,\nm,1,Dimmer,200,255,macro,2:10-20,\nm,2,Zoom,0,255,,,\n");
        Assert.True(model.Predict([199, 15]).Predictable);
        Assert.False(model.Predict([200, 15]).Predictable);
        Assert.True(model.Predict([200, 9]).Predictable);
    }

    [Fact]
    public void A_slot_that_says_nothing_when_no_condition_holds_is_not_predicted_then()
    {
        LightModel model = Model("m,1,Dimmer,0,255,,2:0-9,\nm,2,Zoom,0,255,,,\n");
        Assert.Equal(new LightOutput(1, 1, 1, true), model.Predict([255, 9]));
        Assert.False(model.Predict([255, 10]).Predictable);
    }

    [Fact]
    public void A_dependent_colour_and_a_dependent_shutter_are_followed()
    {
        LightModel model = Model("m,1,Red,0,255,,,\nm,1,Red,0,255,programme 1,3:100-255,\nm,2,Shutter,0,255,Open,,\nm,2,Shutter,0,255,Closed,3:50-99,\nm,3,Zoom,0,255,,,\n");
        Assert.Equal(new LightOutput(1, 0, 0, true), model.Predict([255, 0, 49]));
        Assert.Equal(new LightOutput(0, 0, 0, true), model.Predict([255, 0, 50]));
        Assert.False(model.Predict([255, 0, 100]).Predictable);
    }

    [Fact]
    public void The_low_byte_counts_in_the_case_too()
    {
        LightModel model = Model("m,1,Dimmer,0,255,,,\nm,1,Dimmer,0,255,0-100%,3:1-1,\nm,2,Dimmer fine,0,255,,,\nm,3,Zoom,0,255,,,\n");
        Assert.Equal(model.Predict([128, 77, 0]), model.Predict([128, 77, 1]));
        Assert.Equal(((128 * 256) + 77) / 65535f, model.Predict([128, 77, 1]).Red, 6);
    }

    [Fact]
    public void Intensities_of_cells_are_averaged_and_the_master_multiplies()
    {
        LightModel model = Model("m,1,Master dimmer,0,255,,,\nm,2,Dimmer left,0,255,,,L\nm,3,Dimmer right,0,255,,,R\n");
        Assert.Equal(0.5f, model.Predict([255, 255, 0]).Red);
        Assert.Equal(0.2f, model.Predict([51, 255, 255]).Red, 6);
        Assert.Equal(0, model.Predict([0, 255, 255]).Red);
    }

    [Fact]
    public void Another_emitter_is_predicted_only_while_it_is_dark()
    {
        LightModel model = Model("m,1,Red,0,255,,,\nm,2,Lime,0,255,,,\n");
        Assert.Equal(new LightOutput(1, 0, 0, true), model.Predict([255, 0]));
        Assert.False(model.Predict([255, 1]).Predictable);
    }

    [Fact]
    public void Predicting_a_dependent_slot_allocates_nothing()
    {
        LightModel model = Model("m,1,Dimmer,0,255,,,\nm,1,Dimmer,0,255,no function,2:10-20,\nm,2,Zoom,0,255,,,\nm,3,Dimmer left,0,255,,,L\nm,4,Dimmer right,0,255,,,R\n");
        byte[] slots = [255, 15, 3, 4];
        float sum = 0;
        Assert.Equal(0, Allocations.Least(() => sum += model.Predict(slots).Red));
        Assert.Equal(0, sum);
    }

    private static LightModel Model(string rows)
    {
        using StringReader text = new(Head + rows);
        ChartReading reading = ChartReader.Read("x", text);
        Assert.Empty(reading.Problems);
        return new LightModel(reading.Chart!.Modes[0]);
    }
}
