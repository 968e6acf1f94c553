using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Measuring;

using static DmxProbe.Fixtures.Tests.Light.Modes;

namespace DmxProbe.Fixtures.Tests.Light;

public sealed class LightModelTests
{
    private static readonly ChartRange[] ShutterRanges =
    [
        Range(0, 9, RangeEffect.Closed), Range(10, 199, RangeEffect.Flashing), Range(200, 239, RangeEffect.Open),
        Range(240, 249, RangeEffect.NoFunction), Range(250, 255, RangeEffect.Unknown),
    ];

    private static readonly LightModel Wash = new(Of(
        Slot(1, SlotRole.Intensity), Slot(2, SlotRole.Red), Slot(3, SlotRole.Green), Slot(4, SlotRole.Blue), Slot(5, SlotRole.Shutter, ShutterRanges)));

    [Fact]
    public void A_dimmer_gives_white_light_of_its_level()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity)));
        for (int level = 0; level < 256; level++)
        {
            LightOutput light = model.Predict([(byte)level]);
            float part = level / 255f;
            Assert.Equal(new LightOutput(part, part, part, true), light);
        }

        Assert.False(model.UsesColour);
    }

    [Fact]
    public void Colour_without_a_dimmer_is_the_colour_mix()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Red), Slot(2, SlotRole.Green), Slot(3, SlotRole.Blue)));
        Assert.Equal(new LightOutput(1, 0.2f, 0, true), model.Predict([255, 51, 0]));
        Assert.True(model.UsesColour);
        Assert.Equal([1, 2, 3], model.LightSlots);
    }

    [Fact]
    public void Intensity_and_colour_multiply()
    {
        LightOutput light = Wash.Predict([51, 255, 51, 0, 200]);
        Assert.Equal(0.2f, light.Red, 6);
        Assert.Equal(0.04f, light.Green, 6);
        Assert.Equal(0, light.Blue);
        Assert.True(light.Predictable);
    }

    [Fact]
    public void Two_intensity_slots_multiply()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity), Slot(2, SlotRole.Intensity)));
        Assert.Equal(0.04f, model.Predict([51, 51]).Red, 6);
    }

    [Theory]
    [InlineData(0, true, 0f)]
    [InlineData(9, true, 0f)]
    [InlineData(10, false, 0f)]
    [InlineData(199, false, 0f)]
    [InlineData(200, true, 1f)]
    [InlineData(240, true, 1f)]
    [InlineData(250, false, 0f)]
    public void The_shutter_gates_the_light_at_the_edges_of_its_ranges(byte shutter, bool predictable, float red)
    {
        LightOutput light = Wash.Predict([255, 255, 0, 0, shutter]);
        Assert.Equal(new LightOutput(red, 0, 0, predictable), light);
    }

    [Theory]
    [InlineData(0, 255)]
    [InlineData(255, 0)]
    public void A_strobe_without_light_behind_it_is_dark_and_predictable(byte dimmer, byte red) =>
        Assert.Equal(new LightOutput(0, 0, 0, true), Wash.Predict([dimmer, red, 0, 0, 100]));

    [Fact]
    public void A_proportional_shutter_range_is_open()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity), Slot(2, SlotRole.Shutter)));
        Assert.Equal(1, model.Predict([255, 0]).Red);
        Assert.Equal([1], model.LightSlots);
    }

    [Theory]
    [InlineData(RangeEffect.ProgrammeRuns, SlotRole.Speed)]
    [InlineData(RangeEffect.ProgrammeRuns, SlotRole.Red)]
    [InlineData(RangeEffect.ControlAction, SlotRole.Control)]
    [InlineData(RangeEffect.Proportional, SlotRole.Programme)]
    [InlineData(RangeEffect.Unknown, SlotRole.Programme)]
    [InlineData(RangeEffect.Unknown, SlotRole.Shutter)]
    [InlineData(RangeEffect.Unknown, SlotRole.Intensity)]
    [InlineData(RangeEffect.Unknown, SlotRole.Green)]
    public void What_takes_the_fixture_over_makes_it_unpredictable_even_in_the_dark(RangeEffect effect, SlotRole role)
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity), Slot(2, role, Range(0, 9, RangeEffect.NoFunction), Range(10, 255, effect))));
        Assert.True(model.Predict([255, 9]).Predictable);
        Assert.False(model.Predict([255, 10]).Predictable);
        Assert.False(model.Predict([0, 255]).Predictable);
    }

    [Theory]
    [InlineData(SlotRole.Position)]
    [InlineData(SlotRole.Speed)]
    [InlineData(SlotRole.Beam)]
    [InlineData(SlotRole.Hazard)]
    [InlineData(SlotRole.Unknown)]
    [InlineData(SlotRole.None)]
    [InlineData(SlotRole.UltraViolet)]
    public void Other_slots_have_no_say_in_the_light(SlotRole role)
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity), Slot(2, role)));
        Assert.Equal(model.Predict([255, 0]), model.Predict([255, 255]));
        Assert.Equal([1], model.LightSlots);
        Assert.False(model.UsesColour);
    }

    [Fact]
    public void A_mode_without_light_is_dark_and_predictable_whatever_is_sent()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Hazard), Slot(2, SlotRole.Programme), Slot(3, SlotRole.Shutter, ShutterRanges)));
        Assert.Equal(new LightOutput(0, 0, 0, true), model.Predict([255, 255, 255]));
        Assert.Empty(model.LightSlots);
    }

    [Fact]
    public void A_low_byte_adds_to_its_own_slot_by_name()
    {
        LightModel model = new(Of(
            Named(1, "Pan", SlotRole.Position), Named(2, "Pan fine", SlotRole.Fine), Named(3, "Dimmer", SlotRole.Intensity), Named(4, "Dimmer fine", SlotRole.Fine)));
        Assert.Equal([3, 4], model.LightSlots);
        Assert.Equal(1, model.Predict([0, 0, 255, 255]).Red, 6);
        Assert.Equal(((128 * 256) + 7) / 65535f, model.Predict([0, 255, 128, 7]).Red, 6);
        Assert.Equal(128 * 256 / 65535f, model.Predict([0, 255, 128]).Red, 6);
    }

    [Fact]
    public void A_low_byte_without_a_name_belongs_to_the_slot_before_it()
    {
        LightModel model = new(Of(Named(1, "Dimmer", SlotRole.Intensity), Named(2, "fine", SlotRole.Fine)));
        Assert.Equal([1, 2], model.LightSlots);
    }

    [Fact]
    public void A_ramp_over_part_of_a_slot_is_stretched_and_split_ramps_are_one()
    {
        LightModel model = new(Of(Slot(1, SlotRole.Intensity,
            Range(0, 9, RangeEffect.Closed), Range(10, 59, RangeEffect.Proportional), Range(60, 110, RangeEffect.Proportional),
            Range(111, 200, RangeEffect.Flashing), Range(201, 255, RangeEffect.Open))));
        Assert.Equal(0, model.Predict([10]).Red);
        Assert.Equal(0.5f, model.Predict([60]).Red, 6);
        Assert.Equal(1, model.Predict([110]).Red);
        Assert.False(model.Predict([111]).Predictable);
        Assert.Equal(1, model.Predict([201]).Red);
    }

    [Fact]
    public void Cells_of_one_colour_are_averaged_and_colours_are_clamped()
    {
        LightModel cells = new(Of(Slot(1, SlotRole.Red), Slot(2, SlotRole.Red)));
        Assert.Equal(0.5f, cells.Predict([255, 0]).Red);
        LightModel rgbwa = new(Of(Slot(1, SlotRole.Red), Slot(2, SlotRole.White), Slot(3, SlotRole.Amber)));
        LightOutput light = rgbwa.Predict([255, 255, 255]);
        Assert.Equal(1, light.Red);
        Assert.InRange(light.Green, 0.01f, 0.99f);
        Assert.InRange(light.Blue, 0.01f, light.Green);
    }

    [Fact]
    public void A_white_emitter_gives_its_light_to_the_three_parts_alike()
    {
        LightOutput light = new LightModel(Of(Slot(1, SlotRole.White))).Predict([255]);
        Assert.True(light.Red > 0);
        Assert.Equal(light.Red, light.Green);
        Assert.Equal(light.Red, light.Blue);
    }

    [Fact]
    public void Slots_that_are_not_sent_count_as_zero_at_every_cut()
    {
        byte[] slots = [200, 150, 100, 50, 220];
        for (int length = 0; length <= slots.Length; length++)
        {
            byte[] padded = new byte[slots.Length];
            slots.AsSpan(0, length).CopyTo(padded);
            Assert.Equal(Wash.Predict(padded), Wash.Predict(slots.AsSpan(0, length).ToArray()));
        }
    }

    [Fact]
    public void All_parts_stay_between_0_and_1_for_random_slots()
    {
        Random random = new(20260101);
        byte[] slots = new byte[5];
        for (int i = 0; i < 10_000; i++)
        {
            random.NextBytes(slots);
            LightOutput light = Wash.Predict(slots);
            Assert.InRange(Math.Min(light.Red, Math.Min(light.Green, light.Blue)), 0, 1);
            Assert.InRange(Math.Max(light.Red, Math.Max(light.Green, light.Blue)), 0, 1);
        }
    }

    [Fact]
    public void Predicting_allocates_nothing()
    {
        byte[] slots = [200, 150, 100, 50, 220];
        float sum = Wash.Predict(slots).Luminance;
        long least = Allocations.Least(() =>
        {
            for (int i = 0; i < 10_000; i++)
            {
                slots[0] = (byte)(i & 0xFF);
                sum += Wash.Predict(slots).Luminance;
            }
        });

        Assert.Equal(0, least);
        Assert.True(sum > 0);
    }
}
