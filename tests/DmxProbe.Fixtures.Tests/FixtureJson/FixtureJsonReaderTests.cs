using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.FixtureJson;
using DmxProbe.Fixtures.Light;
using DmxProbe.Testing.Files;

namespace DmxProbe.Fixtures.Tests.FixtureJson;

public sealed class FixtureJsonReaderTests
{
    private const string Example = """
        {
          "name": "X", "categories": ["Color Changer"],
          "availableChannels": {
            "Dim": { "fineChannelAliases": ["Dim fine"], "dmxValueResolution": "8bit", "defaultValue": "100%", "capabilities": [
              { "dmxRange": [0, 9], "type": "Intensity", "brightness": "off" },
              { "dmxRange": [10, 199], "type": "Intensity", "brightnessStart": "0%", "brightnessEnd": "100%" },
              { "dmxRange": [200, 255], "type": "ShutterStrobe", "shutterEffect": "Strobe", "speedStart": "slow", "speedEnd": "fast" } ] },
            "Shut": { "capabilities": [
              { "dmxRange": [0, 15], "type": "ShutterStrobe", "shutterEffect": "Closed" },
              { "dmxRange": [16, 100], "type": "ShutterStrobe", "shutterEffect": "Open" },
              { "dmxRange": [110, 255], "type": "Generic", "comment": "Jitter" } ] },
            "Select": { "defaultValue": 3, "capabilities": [
              { "dmxRange": [0, 99], "type": "NoFunction", "switchChannels": { "Speed / Fog": "Pace" } },
              { "dmxRange": [100, 255], "type": "Effect", "effectName": "Rainbow", "switchChannels": { "Speed / Fog": "Smoke" } } ] },
            "Pace": { "capability": { "type": "EffectSpeed", "speedStart": "slow", "speedEnd": "fast" } },
            "Smoke": { "capability": { "type": "Fog" } },
            "Care": { "capabilities": [ { "dmxRange": [0, 9], "type": "NoFunction" }, { "dmxRange": [10, 255], "type": "Maintenance", "comment": "Reset" } ] }
          },
          "matrix": { "pixelKeys": [[["L", "R"]]], "pixelGroups": { "All": "all" } },
          "templateChannels": { "Red $pixelKey": { "fineChannelAliases": ["Red $pixelKey fine"], "capability": { "type": "ColorIntensity", "color": "Red" } } },
          "modes": [
            { "name": "Full", "channels": ["Dim", "Shut", null, "Select", "Speed / Fog", "Care"] },
            { "name": "Cells", "channels": ["Dim", { "insert": "matrixChannels", "repeatFor": "eachPixelABC", "channelOrder": "perChannel", "templateChannels": ["Red $pixelKey", "Red $pixelKey fine"] }, "Red All", "Nowhere"] }
          ]
        }
        """;

    [Fact]
    public void Roles_effects_and_words_are_those_of_the_file()
    {
        ChartMode mode = Read(Example).Chart!.Modes[0];
        Assert.Equal(
            [
                "1 Dim Intensity: 0-9 'off' Closed, 10-199 '0% to 100%' Proportional, 200-255 'Strobe, slow to fast' Flashing",
                "2 Shut Unknown: 0-15 'Closed' Closed, 16-100 'Open' Open, 101-109 '' Unknown, 110-255 'Jitter' Unknown",
                "3 Not used None: 0-255 '' NoFunction",
            ],
            mode.Slots.Take(3).Select(Line));
        Assert.Equal("6 Care Control: 0-9 'No function' NoFunction, 10-255 'Reset' ControlAction", Line(mode.Slots[5]));
        Assert.Equal((255, 3, 6), (mode.Slots[0].Default!.Value, mode.Slots[3].Default!.Value, mode.Footprint));
    }

    [Fact]
    public void A_switching_channel_means_what_its_master_says()
    {
        ChartMode mode = Read(Example).Chart!.Modes[0];
        Assert.Equal(SlotRole.Hazard, mode.Slots[4].Role); // it can be the fog: dangerous, whatever it is now
        Assert.Equal("Pace: slow to fast", mode.RangeAt(5, [0, 0, 0, 99, 50])!.Meaning);
        Assert.StartsWith("Smoke", mode.RangeAt(5, [0, 0, 0, 100, 50])!.Meaning, StringComparison.Ordinal);
    }

    [Fact]
    public void Pixels_stand_in_the_order_the_mode_asks_for()
    {
        ChartMode mode = Read(Example).Chart!.Modes[1];
        Assert.Equal(["Dim", "Red L", "Red R", "Red L fine", "Red R fine", "Red All", "Nowhere"], mode.Slots.Select(slot => slot.Function));
        Assert.Equal(["Intensity", "Red", "Red", "Fine", "Fine", "Red", "Unknown"], mode.Slots.Select(slot => slot.Role.ToString()));
        Assert.Equal([4], mode.Slots[1].LowSlots);
        Assert.Equal("L", mode.Slots[1].Cell);
    }

    [Fact]
    public void A_name_that_can_hurt_outweighs_a_harmless_kind()
    {
        string json = """{"availableChannels":{"CO2 jet":{"capability":{"type":"Intensity"}}},"modes":[{"name":"a","channels":["CO2 jet"]}]}""";
        Assert.Equal(SlotRole.Hazard, Read(json).Chart!.Modes[0].Slots[0].Role);
        string hazer = """{"categories":["Hazer"],"availableChannels":{"Output":{"capability":{"type":"Intensity"}}},"modes":[{"name":"a","channels":["Output"]}]}""";
        Assert.Equal(SlotRole.Hazard, Read(hazer).Chart!.Modes[0].Slots[0].Role);
        string reset = """{"availableChannels":{"Dim":{"capability":{"type":"Intensity","comment":"Reset when held"}}},"modes":[{"name":"a","channels":["Dim"]}]}""";
        Assert.Equal(RangeEffect.ControlAction, Read(reset).Chart!.Modes[0].Slots[0].Ranges[0].Effect);
    }

    [Fact]
    public void A_wheel_slot_is_one_setting_and_is_called_by_its_name()
    {
        string json = """{"wheels":{"Gobo":{"slots":[{"type":"Open"},{"type":"Gobo","name":"Leaves"}]}},"availableChannels":{"Gobo":{"capabilities":[{"dmxRange":[0,99],"type":"WheelSlot","slotNumber":1},{"dmxRange":[100,199],"type":"WheelSlot","slotNumber":2},{"dmxRange":[200,255],"type":"WheelRotation","speedStart":"slow CW","speedEnd":"fast CW"}]}},"modes":[{"name":"a","channels":["Gobo"]}]}""";
        Assert.Equal("1 Gobo Beam: 0-99 'Open' Open, 100-199 'Leaves' Fixed, 200-255 'slow CW to fast CW' Proportional", Line(Read(json).Chart!.Modes[0].Slots[0]));
    }

    [Fact]
    public void Ranges_that_overlap_make_the_slot_unknown()
    {
        string json = """{"availableChannels":{"Dim":{"capabilities":[{"dmxRange":[0,100],"type":"Intensity"},{"dmxRange":[50,255],"type":"Intensity"}]}},"modes":[{"name":"a","channels":["Dim"]}]}""";
        ChartSlot slot = Read(json).Chart!.Modes[0].Slots[0];
        Assert.Equal("1 Dim Unknown: 0-255 'its ranges overlap or are broken' Unknown", Line(slot));
    }

    [Fact]
    public void Values_written_wide_are_known_in_a_mode_without_low_bytes()
    {
        // 16-bit bounds that do not fall between two steps of the high byte: the step in common is not sure.
        string json = """{"availableChannels":{"S":{"fineChannelAliases":["S fine"],"capabilities":[{"dmxRange":[0,32767],"type":"ShutterStrobe","shutterEffect":"Closed"},{"dmxRange":[32768,40000],"type":"ShutterStrobe","shutterEffect":"Open"},{"dmxRange":[40001,65535],"type":"ShutterStrobe","shutterEffect":"Pulse"}]}},"modes":[{"name":"8","channels":["S"]},{"name":"16","channels":["S","S fine"]}]}""";
        Chart chart = Read(json).Chart!;
        Assert.Equal("1 S Shutter: 0-127 'Closed' Closed, 128-155 'Open' Open, 156-156 'Open / Pulse' Unknown, 157-255 'Pulse' Flashing", Line(chart.Modes[0].Slots[0]));
        Assert.Equal("Open", chart.Modes[1].RangeAt(1, [156, 64])!.Meaning); // 156 * 256 + 64 = 40000
        Assert.Equal("Pulse", chart.Modes[1].RangeAt(1, [156, 65])!.Meaning);
    }

    [Fact]
    public void Modes_of_more_than_512_slots_are_left_out_and_said()
    {
        string many = string.Join(',', Enumerable.Repeat("\"D\"", 513));
        string json = $$$$"""{"availableChannels":{"D":{"capability":{"type":"Intensity"}}},"modes":[{"name":"a","channels":["D"]},{"name":"b","channels":[{{{{many}}}}]}]}""";
        ChartReading reading = Read(json);
        Assert.Equal("a", Assert.Single(reading.Chart!.Modes).Name);
        Assert.Equal("mode 'b' is left out: expected 1 to 512 slots, found more; correct the mode in the file when it is needed", Assert.Single(reading.Notes).ToString());
    }

    [Theory]
    [InlineData("", "this is not whole JSON, line 1")]
    [InlineData("{\n\"modes\": [", "this is not whole JSON, line 2")]
    [InlineData("[]", "there is no fixture in this file")]
    [InlineData("{\"modes\":[{\"channels\":[\"a\"]}]}", "there is no fixture in this file")]
    [InlineData("{\"availableChannels\":{\"a\":7},\"modes\":[{\"channels\":[]}]}", "no mode of this fixture can be used")]
    public void What_is_no_fixture_is_refused_in_one_sentence(string json, string start)
    {
        ChartReading reading = Read(json);
        Assert.Null(reading.Chart);
        Assert.StartsWith(start, Assert.Single(reading.Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Half_characters_and_deep_nesting_are_no_way_out()
    {
        Assert.Equal("unnamed", Read("""{"availableChannels":{"a":{}},"modes":[{"name":"\uD800","channels":["a"]}]}""").Chart!.Modes[0].Name);
        Assert.NotEmpty(Read("""{"availableChannels":{"\uD800":{}},"modes":[{"name":"x","channels":["\uDC00"]}]}""").Chart!.Modes);
        Assert.StartsWith("this is not whole JSON", Assert.Single(Read(new string('[', 100_000)).Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_cut_and_no_damage_throws()
    {
        byte[] whole = Encoding.UTF8.GetBytes(Example);
        for (int length = 0; length < whole.Length; length += 1)
        {
            ChartReading reading = Octets(whole[..length]);
            Assert.Equal(reading.Chart is null, reading.Problems.Count > 0);
        }

        Random random = new(20261126);
        byte[] alphabet = Encoding.ASCII.GetBytes("{}[]\",:0123456789-\\u$ null");
        for (int i = 0; i < 2_000; i++)
        {
            byte[] damaged = [.. whole];
            for (int hit = random.Next(1, 6); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = random.Next(4) == 0 ? (byte)random.Next(256) : alphabet[random.Next(alphabet.Length)];
            }

            ChartReading reading = Octets(damaged);
            Assert.Equal(reading.Chart is null, reading.Problems.Count > 0);
        }
    }

    [SkippableTheory]
    [InlineData("generic_4-channel-dimmer-pack.json", "1-channel:1 2-channel:2 4-channel:4")]
    [InlineData("generic_cmy-fader.json", "8 bit:3 16 bit:6 24 bit:9")]
    [InlineData("generic_desk-channel.json", "8 bit:1 16 bit:2 24 bit:3")]
    [InlineData("generic_rgbw-fader.json", "8 bit:4 16 bit:8 24 bit:12")]
    [InlineData("generic_strobe.json", "Frequency + Dimmer:2 Dimmer + Frequency:2")]
    public void The_generic_fixtures_of_the_open_data_set_are_read_whole(string name, string modes)
    {
        string? path = Places.SharedFile("captures", "fixtures", "ofl", name);
        Skip.If(path is null, Places.NoShared);
        using FileStream file = File.OpenRead(path);
        ChartReading reading = FixtureJsonReader.Read("x", file);
        Assert.Empty(reading.Notes);
        Assert.Equal(modes, string.Join(' ', reading.Chart!.Modes.Select(mode => $"{mode.Name}:{mode.Footprint}")));
        Assert.DoesNotContain(reading.Chart.Modes.SelectMany(mode => mode.Slots), slot => slot.Role == SlotRole.Unknown);
    }

    [SkippableFact]
    public void The_generic_rgbw_fixture_predicts_as_the_same_chart_typed_by_hand()
    {
        string? path = Places.SharedFile("captures", "fixtures", "ofl", "generic_rgbw-fader.json");
        Skip.If(path is null, Places.NoShared);
        using FileStream file = File.OpenRead(path);
        Chart chart = FixtureJsonReader.Read("x", file).Chart!;
        using StringReader typed = new("mode,slot,function,from,to,meaning\n8 bit,1,Red,0,255,\n8 bit,2,Green,0,255,\n8 bit,3,Blue,0,255,\n8 bit,4,White,0,255,\n");
        Assert.Equal(ChartReader.Read("x", typed).Chart!.Modes[0].Slots.Select(Line), chart.Modes[0].Slots.Select(Line));
        LightModel wide = new(chart.Modes[1]);
        Assert.Equal(0x1234 / 65535f, wide.Predict([0x12, 0x34, 0, 0, 0, 0, 0, 0]).Red, 5);
    }

    private static string Line(ChartSlot slot) =>
        $"{slot.Slot} {slot.Function} {slot.Role}: {string.Join(", ", slot.Ranges.Select(range => $"{range.From}-{range.To} '{range.Meaning}' {range.Effect}"))}";

    private static ChartReading Read(string json) => Octets(Encoding.UTF8.GetBytes(json));

    private static ChartReading Octets(byte[] octets)
    {
        using MemoryStream file = new(octets, writable: false);
        return FixtureJsonReader.Read("x", file);
    }
}
