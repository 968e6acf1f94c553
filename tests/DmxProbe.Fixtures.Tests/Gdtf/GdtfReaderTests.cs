using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

using static DmxProbe.Fixtures.Tests.Gdtf.GdtfFiles;

namespace DmxProbe.Fixtures.Tests.Gdtf;

public sealed class GdtfReaderTests
{
    private const string Cell = Body + "<Geometry Name=\"Pixel\"/>";

    [Fact]
    public void Offsets_give_the_slots_the_most_significant_first_also_when_they_are_not_adjacent()
    {
        ChartMode mode = ModeOf(Channel("3,4", "Pan") + Channel("7,1", "Tilt") + Channel("9,2,5", "Zoom"));
        Assert.Equal([1, 2, 3, 4, 5, 7, 9], mode.Slots.Select(slot => slot.Slot));
        Assert.Equal(9, mode.Footprint); // the highest offset, standards-facts.md G4.4
        Assert.Equal([4], mode.Find(3)!.LowSlots);
        Assert.Equal([1], mode.Find(7)!.LowSlots);
        Assert.Equal([2, 5], mode.Find(9)!.LowSlots);
        Assert.Equal(SlotRole.Fine, mode.Find(1)!.Role);
        Assert.Equal("Tilt fine", mode.Find(1)!.Function);
        Assert.Equal(0x0201L, mode.Find(7)!.Value([1, 0, 0, 0, 0, 0, 2]));
        Assert.Null(mode.Find(6));
    }

    // standards-facts.md G4.2: offset "3,4" under a reference with DMXOffset 10 at start address 101 is 112 and 113.
    [Fact]
    public void A_reference_moves_the_slots_by_its_offset()
    {
        string geometries = "<Geometry Name=\"Body\"><GeometryReference Name=\"A\" Geometry=\"Pixel\"><Break DMXBreak=\"1\" DMXOffset=\"10\"/></GeometryReference></Geometry><Geometry Name=\"Pixel\"/>";
        ChartMode mode = ModeOf(Channel("3,4", "Pan", geometry: "Pixel"), geometries);
        const int Start = 101;
        Assert.Equal([112, 113], mode.Slots.Select(slot => Start + slot.Slot - 1));
    }

    [Fact]
    public void Each_reference_is_a_cell_with_slots_of_its_own()
    {
        string geometries = "<Geometry Name=\"Body\"><GeometryReference Name=\"Left\" Geometry=\"Pixel\"><Break DMXBreak=\"1\" DMXOffset=\"2\"/></GeometryReference>" +
            "<GeometryReference Name=\"Right\" Geometry=\"Pixel\"><Break DMXBreak=\"1\" DMXOffset=\"4\"/></GeometryReference></Geometry><Geometry Name=\"Pixel\"/>";
        ChartMode mode = ModeOf(Channel("1", "Dimmer") + Channel("1", "Dimmer", geometry: "Pixel") + Channel("2", "ColorAdd_R", geometry: "Pixel"), geometries);
        Assert.Equal(["Dimmer (Body)", "Dimmer (Left)", "Red (Left)", "Dimmer (Right)", "Red (Right)"], mode.Slots.Select(slot => slot.Function));
        Assert.Equal(["", "Left", "Left", "Right", "Right"], mode.Slots.Select(slot => slot.Cell));

        // The master gates; the cells are averaged: one dark cell of two does not make the fixture dark.
        LightModel model = new(mode);
        Assert.Equal(0.5f, model.Predict([255, 255, 255, 0, 255]).Red);
        Assert.Equal(new LightOutput(0, 0, 0, true), model.Predict([0, 255, 255, 255, 255]));
    }

    [Fact]
    public void Overwrite_takes_the_last_break_of_the_reference_and_each_break_is_a_mode()
    {
        string geometries = "<Geometry Name=\"Body\"><GeometryReference Name=\"A\" Geometry=\"Pixel\"><Break DMXBreak=\"1\" DMXOffset=\"7\"/><Break DMXBreak=\"2\" DMXOffset=\"5\"/></GeometryReference></Geometry><Geometry Name=\"Pixel\"/>";
        ChartReading reading = Read(File(Description(Mode(Channel("1", "Dimmer") + Channel("1", "ColorAdd_R", geometry: "Pixel", dmxBreak: "Overwrite")), geometries)));
        Assert.Equal(["M", "M, break 2"], reading.Chart!.Modes.Select(mode => mode.Name));
        Assert.Equal([1, 5], reading.Chart.Modes.Select(mode => mode.Footprint)); // counted by break, standards-facts.md G4.4
    }

    // standards-facts.md G4.3: sets from 0/1 and 128/1 are 0-127 and 128-255 on 8 bit; on 16 bit the second starts at 32896.
    [Theory]
    [InlineData("1", "0-127 a Fixed", "128-255 b Fixed")]
    [InlineData("1,2", "0-32895 a Fixed", "32896-65535 b Fixed")]
    public void Sets_are_brought_to_the_width_of_the_channel(string offset, string first, string second)
    {
        ChartMode mode = ModeOf(Channel(offset, "Gobo1", Function("Gobo1", sets: Set("a", "0/1") + Set("b", "128/1"))));
        Assert.Equal([first, second], Ranges(mode.Slots[0]));
    }

    [Fact]
    public void Of_a_step_of_the_high_byte_the_short_form_takes_what_has_most_of_it_and_the_exact_form_keeps_all()
    {
        ChartMode mode = ModeOf(Channel("1,2", "Gobo1", Function("Gobo1", sets: Set("a", "0/1") + Set("b", "128/1"))));
        Assert.Equal(["a", "a", "b"], new[] { 0, 127, 129 }.Select(high => mode.Slots[0].Ranges.Single(range => high >= range.From && high <= range.To).Meaning));
        Assert.Equal("a", mode.RangeAt(1, [128, 127])!.Meaning);
        Assert.Equal("b", mode.RangeAt(1, [128, 128])!.Meaning);
    }

    [Fact]
    public void Functions_end_where_the_next_begins_and_a_gap_before_the_first_is_unknown()
    {
        string functions = Function("Shutter1Strobe", "64/1", more: "PhysicalFrom=\"1\" PhysicalTo=\"12\"") + Function("Shutter1", "16/1", Set("Closed", "16/1") + Set("Open", "32/1"));
        ChartMode mode = ModeOf(Channel("1", "Shutter1", functions));
        Assert.Equal(["0-15  Unknown", "16-31 Closed Closed", "32-63 Open Open", "64-255 Shutter 1 strobe, 1 to 12 Hz Flashing"], Ranges(mode.Slots[0]));
        Assert.Equal(SlotRole.Shutter, mode.Slots[0].Role);
    }

    [Fact]
    public void Sets_of_an_amount_are_marks_on_its_ramp()
    {
        ChartMode mode = ModeOf(Channel("1,2", "Dimmer", Function("Dimmer", "0/2", Set("Closed", "0/2") + Set("", "1/2") + Set("Open", "65535/2"))));
        LightModel model = new(mode);
        for (int value = 0; value < 65536; value += 257 * 5)
        {
            Assert.Equal(value / 65535f, model.Predict([(byte)(value >> 8), (byte)(value & 0xFF)]).Red, 5);
        }
    }

    [Theory]
    [InlineData("Dimmer", SlotRole.Intensity)]
    [InlineData("ColorAdd_R", SlotRole.Red)]
    [InlineData("ColorAdd_RY", SlotRole.Amber)]
    [InlineData("ColorAdd_GY", SlotRole.OtherEmitter)]
    [InlineData("ColorAdd_UV", SlotRole.UltraViolet)]
    [InlineData("ColorSub_C", SlotRole.Beam)]
    [InlineData("Shutter2StrobeRandom", SlotRole.Shutter)]
    [InlineData("StrobeFrequency", SlotRole.Shutter)]
    [InlineData("Pan", SlotRole.Position)]
    [InlineData("Gobo2PosRotate", SlotRole.Beam)]
    [InlineData("Gobo1WheelAudio", SlotRole.Programme)]
    [InlineData("ColorMacro1", SlotRole.Programme)]
    [InlineData("ColorMacro1Rate", SlotRole.Speed)]
    [InlineData("Effects3", SlotRole.Programme)]
    [InlineData("PositionMSpeed", SlotRole.Speed)]
    [InlineData("FixtureGlobalReset", SlotRole.Control)]
    [InlineData("GoboWheelsReset", SlotRole.Control)]
    [InlineData("LampControl", SlotRole.Control)]
    [InlineData("Control1", SlotRole.Control)]
    [InlineData("Fog1", SlotRole.Hazard)]
    [InlineData("Flame3", SlotRole.Hazard)] // not an attribute of annex A, but its word is a hazard
    [InlineData("NoFeature", SlotRole.None)]
    [InlineData("Wobble7", SlotRole.Unknown)]
    public void An_attribute_gives_the_role(string attribute, SlotRole role) =>
        Assert.Equal(role, Assert.Single(ModeOf(Channel("1", attribute)).Slots).Role);

    [Fact]
    public void What_is_unknown_is_shown_as_it_is_written_and_counts_as_dangerous()
    {
        ChartSlot slot = Assert.Single(ModeOf(Channel("1", "Wobble7", Function("Wobble7", sets: Set("No function", "0/1") + Set("wild", "9/1"), more: "OriginalAttribute=\"W. mode\""))).Slots);
        Assert.Equal("Wobble7", slot.Function);
        Assert.Equal(["0-8 Wobble7: No function (W. mode) Unknown", "9-255 Wobble7: wild (W. mode) Unknown"], Ranges(slot));
    }

    [Fact]
    public void A_danger_beside_a_light_in_one_slot_is_not_hidden_by_it()
    {
        ChartMode mode = ModeOf(Channel("1", "Dimmer", Function("Dimmer") + Function("FixtureGlobalReset", "250/1") + Function("Wobble7", "254/1")));
        Assert.Equal(SlotRole.Intensity, mode.Slots[0].Role);
        Assert.Equal([RangeEffect.Proportional, RangeEffect.ControlAction, RangeEffect.Unknown], mode.Slots[0].Ranges.Select(range => range.Effect));
        LightModel model = new(mode);
        Assert.True(model.Predict([249]).Predictable);
        Assert.False(model.Predict([251]).Predictable);
        Assert.False(model.Predict([255]).Predictable);
        Assert.Equal(SlotRole.Hazard, ModeOf(Channel("1", "Dimmer", Function("Dimmer") + Function("Fog1", "250/1"))).Slots[0].Role);
    }

    [Fact]
    public void A_function_holds_only_while_its_master_is_in_range_and_the_light_follows_that()
    {
        string functions = Function("Dimmer", more: "ModeMaster=\"Body_Control1\" ModeFrom=\"0/1\" ModeTo=\"99/1\"") +
            Function("Effects1", more: "ModeMaster=\"Body_Control1.Control1.Control1 1\" ModeFrom=\"100/1\" ModeTo=\"199/1\"");
        ChartMode mode = ModeOf(Channel("2", "Control1", Function("Control1", sets: Set("no function", "0/1"))) + Channel("1", "Dimmer", functions));
        Assert.Equal(RangeEffect.Proportional, mode.RangeAt(1, [128, 99])!.Effect);
        Assert.Equal(RangeEffect.ProgrammeRuns, mode.RangeAt(1, [128, 100])!.Effect);
        Assert.Null(mode.RangeAt(1, [128, 200]));
        Assert.All(mode.Slots[0].Ranges, range => Assert.Equal(RangeEffect.Unknown, range.Effect));

        LightModel model = new(mode);
        Assert.Equal(new LightOutput(1, 1, 1, true), model.Predict([255, 99]));
        Assert.False(model.Predict([255, 100]).Predictable);
        Assert.False(model.Predict([255, 200]).Predictable);
        Assert.Equal([1, 2], model.LightSlots);
    }

    [Fact]
    public void A_master_of_16_bit_is_compared_over_both_bytes()
    {
        string functions = Function("Dimmer") + Function("NoFeature", more: "ModeMaster=\"Body_Control1\" ModeFrom=\"1000/2\" ModeTo=\"2000/2\"");
        ChartMode mode = ModeOf(Channel("2,3", "Control1", Function("Control1", sets: Set("no function", "0/1"))) + Channel("1", "Dimmer", functions));
        Assert.Equal([RangeEffect.Proportional, RangeEffect.NoFunction, RangeEffect.NoFunction, RangeEffect.Proportional],
            new[] { 999, 1000, 2000, 2001 }.Select(value => mode.RangeAt(1, [255, (byte)(value >> 8), (byte)(value & 0xFF)])!.Effect));
        LightModel model = new(mode);
        Assert.Equal(1, model.Predict([255, 3, 231]).Red);
        Assert.Equal(0, model.Predict([255, 3, 232]).Red);
    }

    [Theory]
    [InlineData("0/1", "1-255 Fixed")]
    [InlineData("200/1", "Gobo 1 pos, 1-255 Proportional")]
    public void A_master_without_a_slot_chooses_by_its_default(string initial, string expected)
    {
        string functions = Function("Gobo1", more: "ModeMaster=\"Body_Control1\" ModeFrom=\"0/1\" ModeTo=\"99/1\"", sets: Set("1-255", "0/1")) +
            Function("Gobo1Pos", more: "ModeMaster=\"Body_Control1\" ModeFrom=\"100/1\" ModeTo=\"255/1\"", sets: Set("1-255", "0/1"));
        ChartMode mode = ModeOf(Channel("None", "Control1", Function("Control1", more: $"Default=\"{initial}\"")) + Channel("1", "Gobo1", functions));
        Assert.Equal("0-255 " + expected, Assert.Single(Ranges(mode.Slots[0])).Replace(": ", ", ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_dependence_that_cannot_be_found_makes_the_slot_unknown_and_is_noted()
    {
        ChartReading reading = Read(File(Description(Mode(Channel("1", "Dimmer", Function("Dimmer", more: "ModeMaster=\"Head_Nowhere\""))))));
        ChartSlot slot = Assert.Single(reading.Chart!.Modes[0].Slots);
        Assert.Equal((SlotRole.Unknown, RangeEffect.Unknown), (slot.Role, Assert.Single(slot.Ranges).Effect));
        Assert.Contains("'Head_Nowhere'", Assert.Single(reading.Notes).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_default_of_the_function_goes_before_that_of_the_channel_and_is_cut_into_bytes()
    {
        ChartMode mode = ModeOf(Channel("1,2", "Pan", Function("Pan", more: "Default=\"32767/2\""), more: "Default=\"0/1\"") + Channel("3", "Zoom", more: "Default=\"127/1\"") + Channel("4", "Iris"));
        Assert.Equal([127, 255, 127, null], mode.Slots.Select(slot => slot.Default));
    }

    [Fact]
    public void Old_versions_with_coarse_and_fine_are_read()
    {
        string channel = "<DMXChannel Coarse=\"5\" Fine=\"2\" DMXBreak=\"1\" Geometry=\"Body\" Default=\"5/1\"><LogicalChannel Attribute=\"Pan\"><ChannelFunction Attribute=\"Pan\" DMXFrom=\"0/1\"/></LogicalChannel></DMXChannel>";
        ChartReading reading = Read(File(Description(Mode(channel), version: "0.87")));
        Assert.Equal([2], reading.Chart!.Modes[0].Find(5)!.LowSlots);
        Assert.Equal([5, 5], reading.Chart.Modes[0].Slots.Select(slot => slot.Default));
    }

    [Theory]
    [InlineData("513")]
    [InlineData("0")]
    [InlineData("-1")]
    [InlineData("x")]
    [InlineData("1,2,3,4,5")]
    [InlineData("99999999999")]
    public void A_mode_with_impossible_offsets_is_left_out_and_noted(string offset)
    {
        ChartReading both = Read(File(Description(Mode(Channel(offset, "Dimmer"), "Bad") + Mode(Channel("1", "Dimmer"), "Good"))));
        Assert.Equal("Good", Assert.Single(both.Chart!.Modes).Name);
        Assert.StartsWith("mode 'Bad' was left out: expected ", Assert.Single(both.Notes).ToString(), StringComparison.Ordinal);

        ChartReading alone = Read(File(Description(Mode(Channel(offset, "Dimmer"), "Bad"))));
        Assert.Null(alone.Chart);
        Assert.StartsWith("mode 'Bad' was left out: expected ", Assert.Single(alone.Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_reference_that_leads_past_slot_512_leaves_the_mode_out()
    {
        string geometries = "<Geometry Name=\"Body\"><GeometryReference Name=\"A\" Geometry=\"Pixel\"><Break DMXBreak=\"1\" DMXOffset=\"512\"/></GeometryReference></Geometry><Geometry Name=\"Pixel\"/>";
        ChartReading reading = Read(File(Description(Mode(Channel("2", "Dimmer", geometry: "Pixel")), geometries)));
        Assert.Null(reading.Chart);
        Assert.Contains("on slot 513", Assert.Single(reading.Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_slot_that_two_channels_claim_is_unknown()
    {
        ChartReading reading = Read(File(Description(Mode(Channel("1", "Dimmer") + Channel("1", "Pan") + Channel("2", "Tilt")))));
        Assert.Equal([SlotRole.Unknown, SlotRole.Position], reading.Chart!.Modes[0].Slots.Select(slot => slot.Role));
        Assert.Equal("Dimmer / Pan", reading.Chart.Modes[0].Slots[0].Function);
        Assert.Single(reading.Notes);
    }

    [Fact]
    public void References_in_a_circle_end()
    {
        string geometries = "<Geometry Name=\"Body\"><GeometryReference Name=\"A\" Geometry=\"Pixel\"/></Geometry><Geometry Name=\"Pixel\"><GeometryReference Name=\"B\" Geometry=\"Pixel\"/><GeometryReference Name=\"C\" Geometry=\"Body\"/></Geometry>";
        ChartReading reading = Read(File(Description(Mode(Channel("1", "Dimmer")), geometries)));
        Assert.True(reading.Chart is not null || reading.Problems.Count > 0);
    }

    [Fact]
    public void Names_are_made_fit_to_be_shown_and_two_modes_of_one_name_are_told_apart()
    {
        string modes = Mode(Channel("1", "Dimmer"), "A&#10; b") + Mode(Channel("1", "Dimmer"), "a B") + Mode(Channel("1", "Dimmer"), "");
        Assert.Equal(["A b", "a B (2)", "mode 3"], Read(File(Description(modes, Cell))).Chart!.Modes.Select(mode => mode.Name));
    }

    [Fact]
    public void A_set_without_a_name_is_named_after_its_wheel_slot()
    {
        ChartMode mode = ModeOf(Channel("1", "Gobo1", Function("Gobo1", sets: Set("", "0/1", "WheelSlotIndex=\"1\"") + Set("", "10/1", "WheelSlotIndex=\"2\"") + Set("", "20/1", "WheelSlotIndex=\"9\""), more: "Wheel=\"W\"")));
        Assert.Equal(["0-9 Open Open", "10-19 Dots Fixed", "20-255  Fixed"], Ranges(mode.Slots[0]));
    }
}
