using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Files;

namespace DmxProbe.Fixtures.Tests.Gdtf;

/// <summary>GDTF files that others made (shared/captures/PROVENANCE.md, fixtures): read here, never committed.</summary>
public sealed class SharedChartsTests
{
    // The same mode as a person types it.
    private const string Typed = """
        mode,slot,function,from,to,meaning
        Default,1,Dimmer,0,255,0-100%
        Default,2,Red,0,255,0-100%
        Default,3,Green,0,255,0-100%
        Default,4,Blue,0,255,0-100%
        Default,5,White,0,255,0-100%
        """;

    [SkippableFact]
    public void A_chart_typed_by_hand_equals_the_same_mode_in_a_file()
    {
        ChartMode file = Assert.Single(Shared("led_par_64_rgbw.gdtf").Modes);
        using StringReader text = new(Typed);
        ChartMode typed = Assert.Single(ChartReader.Read("x", text).Chart!.Modes);
        Assert.Equal(typed.Name, file.Name);
        Assert.Equal(typed.Footprint, file.Footprint);
        Assert.Equal(typed.Slots.Select(slot => (slot.Slot, slot.Function, slot.Role)), file.Slots.Select(slot => (slot.Slot, slot.Function, slot.Role)));
        LightModel one = new(file), other = new(typed);
        Random random = new(64);
        byte[] slots = new byte[5];
        for (int i = 0; i < 10_000; i++)
        {
            random.NextBytes(slots);
            Assert.Equal(other.Predict(slots), one.Predict(slots));
        }

        Assert.Equal([0, 255, 255, 255, 0], file.Slots.Select(slot => slot.Default)); // as its description.xml says
        Assert.Equal(["Closed", "", "Open"], file.Slots[0].Ranges.Select(range => range.Meaning));
    }

    [SkippableFact]
    public void A_moving_head_of_32_slots_is_read_with_its_dependent_colours()
    {
        ChartMode mode = Assert.Single(Shared("moving_head_32ch.gdtf").Modes);
        Assert.Equal("Standard Mode (32 ch)", mode.Name);
        Assert.Equal(32, mode.Footprint);
        Assert.Equal(Enumerable.Range(1, 32), mode.Slots.Select(slot => slot.Slot));

        // Offsets, attributes, sets and values below are read off its description.xml by eye.
        Assert.Equal([9], mode.Find(8)!.LowSlots);
        Assert.Equal([27], mode.Find(26)!.LowSlots);
        Assert.Equal((SlotRole.Intensity, SlotRole.Shutter, SlotRole.Position, SlotRole.Programme), (mode.Find(8)!.Role, mode.Find(7)!.Role, mode.Find(26)!.Role, mode.Find(25)!.Role));
        Assert.Equal(104, mode.Find(7)!.Default);
        byte[] slots = new byte[32];
        slots[0] = 100;
        Assert.Equal(RangeEffect.Proportional, mode.RangeAt(1, slots)!.Effect);
        slots[5] = 1;
        Assert.Equal(RangeEffect.NoFunction, mode.RangeAt(1, slots)!.Effect);
        slots[5] = 148;
        Assert.Null(mode.RangeAt(1, slots));

        LightModel light = new(mode);
        slots = new byte[32];
        (slots[6], slots[7], slots[8]) = (104, 128, 128);
        Assert.Equal(32896 / 65535f, light.Predict(slots).Red, 5);
        slots[6] = 3;
        Assert.Equal(new LightOutput(0, 0, 0, true), light.Predict(slots));
        slots[6] = 50;
        Assert.False(light.Predict(slots).Predictable);
        (slots[6], slots[24]) = (104, 16);
        Assert.False(light.Predict(slots).Predictable);
    }

    [SkippableFact]
    public void A_virtual_channel_takes_no_slot()
    {
        ChartMode mode = Assert.Single(Shared("virtual_channel.gdtf").Modes);
        Assert.Equal([("Dimmer (Body)", ""), ("Dimmer (Reference 1)", "Reference 1")], mode.Slots.Select(slot => (slot.Function, slot.Cell)));
    }

    [SkippableFact]
    public void Broken_XML_is_refused_with_its_place()
    {
        ChartReading reading = Reading("broken_xml.gdtf");
        Assert.Null(reading.Chart);
        Assert.StartsWith("the description.xml in this GDTF file is not well-formed XML, line 27, column ", Assert.Single(reading.Problems).ToString(), StringComparison.Ordinal);
    }

    private static Chart Shared(string name)
    {
        ChartReading reading = Reading(name);
        Assert.Empty(reading.Problems);
        Assert.Empty(reading.Notes);
        return reading.Chart!;
    }

    private static ChartReading Reading(string name)
    {
        string? path = Places.SharedFile("captures", "fixtures", "gdtf", name);
        Skip.If(path is null, Places.NoShared);
        using FileStream file = System.IO.File.OpenRead(path);
        return ChartFile.Read("x", file);
    }
}
