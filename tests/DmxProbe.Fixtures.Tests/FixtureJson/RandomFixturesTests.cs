using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.FixtureJson;

namespace DmxProbe.Fixtures.Tests.FixtureJson;

/// <summary>A thousand fixtures by a fixed seed: what a value means is what the file says, here and after a way through CSV.</summary>
public sealed class RandomFixturesTests
{
    // Kinds and the role a person would give them; written apart from the reader's own table.
    private static readonly (string Kind, string? Colour, SlotRole Role)[] Kinds =
    [
        ("Intensity", null, SlotRole.Intensity), ("ColorIntensity", "Red", SlotRole.Red), ("ColorIntensity", "Blue", SlotRole.Blue), ("ColorIntensity", "Lime", SlotRole.OtherEmitter),
        ("ShutterStrobe", null, SlotRole.Shutter), ("Pan", null, SlotRole.Position), ("Zoom", null, SlotRole.Beam), ("Effect", null, SlotRole.Programme), ("Fog", null, SlotRole.Hazard),
        ("Maintenance", null, SlotRole.Control), ("Speed", null, SlotRole.Speed), ("Generic", null, SlotRole.Unknown), ("SomethingNew", null, SlotRole.Unknown), ("NoFunction", null, SlotRole.None),
    ];

    [Fact]
    public void A_random_value_means_what_the_file_says()
    {
        Random random = new(6);
        for (int chart = 0; chart < 1_000; chart++)
        {
            List<Channel> channels = [.. Enumerable.Range(0, random.Next(1, 9)).Select(index => Channel.Made(random, index))];
            List<string> names = [.. channels.SelectMany(channel => Enumerable.Range(0, channel.Bytes).Select(channel.NameOf)).OrderBy(_ => random.Next())];
            Chart read = Read(Json(channels, names));
            ChartMode mode = Assert.Single(read.Modes);
            ChartMode again = Assert.Single(ThroughCsv(read).Modes);
            Assert.Equal(names.Count, mode.Footprint);
            Assert.Equal(Dump(mode), Dump(again));

            byte[] slots = new byte[names.Count];
            random.NextBytes(slots);
            foreach (Channel channel in channels)
            {
                int slot = names.IndexOf(channel.NameOf(0)) + 1;
                Assert.Equal(channel.Role, mode.Find(slot)!.Role);
                long value = 0;
                for (int i = 0; i < channel.Bytes; i++)
                {
                    value = (value << 8) | slots[names.IndexOf(channel.NameOf(i))];
                }

                string said = channel.Said(value);
                Assert.Contains(said, mode.RangeAt(slot, slots)!.Meaning, StringComparison.Ordinal);
                Assert.Contains(said, again.RangeAt(slot, slots)!.Meaning, StringComparison.Ordinal);
            }
        }
    }

    private static string Dump(ChartMode mode) => string.Join('\n', mode.Slots.Select(slot =>
        $"{slot.Slot} {slot.Function} {slot.Role} {slot.Default} {slot.Cell} [{string.Join('|', slot.LowSlots)}] {string.Join("; ", slot.Ranges)} {string.Join("; ", slot.Exact)}"));

    private static Chart ThroughCsv(Chart chart)
    {
        using StringWriter csv = new();
        ChartWriter.Write(csv, chart);
        using StringReader text = new(csv.ToString());
        ChartReading reading = ChartReader.Read(chart.Type, text);
        Assert.Empty(reading.Problems);
        return reading.Chart!;
    }

    private static Chart Read(string json)
    {
        using MemoryStream file = new(Encoding.UTF8.GetBytes(json), writable: false);
        return FixtureJsonReader.Read("x", file).Chart!;
    }

    private static string Json(List<Channel> channels, List<string> names)
    {
        JsonObject available = [];
        foreach (Channel channel in channels)
        {
            available[channel.NameOf(0)] = channel.Json();
        }

        return new JsonObject
        {
            ["availableChannels"] = available,
            ["modes"] = new JsonArray(new JsonObject { ["name"] = "m, \"1\"", ["channels"] = new JsonArray([.. names.Select(name => JsonValue.Create(name))]) }),
        }.ToJsonString();
    }

    private sealed record Channel(int Index, int Bytes, (string Kind, string? Colour, SlotRole Role) What, long[] Starts)
    {
        public SlotRole Role => What.Role;

        public static Channel Made(Random random, int index)
        {
            int bytes = random.Next(1, 4);
            long top = 1L << (8 * bytes);
            long[] starts = [0, .. Enumerable.Range(0, random.Next(0, 6)).Select(_ => random.NextInt64(1, top)).Distinct().Order()];
            return new Channel(index, bytes, Kinds[random.Next(Kinds.Length)], starts);
        }

        public string NameOf(int octet) => string.Create(CultureInfo.InvariantCulture, $"Q{Index}{(octet == 0 ? "" : " low " + octet)}");

        public string Said(long value) => string.Create(CultureInfo.InvariantCulture, $"=q{Index},{Array.FindLastIndex(Starts, start => start <= value)};");

        public JsonObject Json()
        {
            JsonArray capabilities = [];
            for (int i = 0; i < Starts.Length; i++)
            {
                long last = i + 1 < Starts.Length ? Starts[i + 1] - 1 : (1L << (8 * Bytes)) - 1;
                JsonObject capability = new() { ["dmxRange"] = new JsonArray(Starts[i], last), ["type"] = What.Kind, ["comment"] = Said(Starts[i]) };
                if (What.Colour is not null)
                {
                    capability["color"] = What.Colour;
                }

                if (What.Kind == "ShutterStrobe")
                {
                    capability["shutterEffect"] = "Open";
                }

                capabilities.Add(capability);
            }

            return new JsonObject { ["fineChannelAliases"] = new JsonArray([.. Enumerable.Range(1, Bytes - 1).Select(octet => JsonValue.Create(NameOf(octet)))]), ["capabilities"] = capabilities };
        }
    }
}
