using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tests.Charts;

using static DmxProbe.Fixtures.Tests.Gdtf.GdtfFiles;

namespace DmxProbe.Fixtures.Tests.Gdtf;

/// <summary>
/// 1,000 random charts: for random values in all slots, what the chart says of each slot is what the source says, looked
/// up here by other means (by the words of the public GDTF text: a function reaches to the next, a set to the next in it).
/// </summary>
public sealed class RandomChartsTests
{
    private static readonly (string Attribute, SlotRole Role, RangeEffect Effect)[] Attributes =
    [
        ("Dimmer", SlotRole.Intensity, RangeEffect.Proportional), ("ColorAdd_G", SlotRole.Green, RangeEffect.Proportional), ("ColorAdd_GY", SlotRole.OtherEmitter, RangeEffect.Proportional),
        ("Pan", SlotRole.Position, RangeEffect.Proportional), ("Gobo2", SlotRole.Beam, RangeEffect.Fixed), ("Effects1", SlotRole.Programme, RangeEffect.ProgrammeRuns),
        ("Shutter1Strobe", SlotRole.Shutter, RangeEffect.Flashing), ("FixtureGlobalReset", SlotRole.Control, RangeEffect.ControlAction), ("Twirl9", SlotRole.Unknown, RangeEffect.Unknown),
        ("PositionMSpeed", SlotRole.Speed, RangeEffect.Proportional), ("Haze1", SlotRole.Hazard, RangeEffect.Unknown), ("NoFeature", SlotRole.None, RangeEffect.NoFunction),
    ];

    [Fact]
    public void A_random_value_means_what_the_source_says_and_so_it_does_through_CSV()
    {
        int wide = 0, dependent = 0, looked = 0;
        for (int seed = 0; seed < 1000; seed++)
        {
            Random random = new(seed);
            List<Source> sources = Sources(random);
            ChartReading reading = Read(File(Description(Mode(string.Concat(sources.Select(source => source.Xml()))))));
            ChartMode mode = Assert.Single(reading.Chart!.Modes);
            Assert.Empty(reading.Notes);
            Assert.Equal(sources.Max(source => source.Slots.Max()), mode.Footprint);

            using StringWriter csv = new();
            ChartWriter.Write(csv, reading.Chart);
            using StringReader text = new(csv.ToString());
            ChartReading again = ChartReader.Read("x", text);
            Assert.Empty(again.Problems);
            SameCharts.Equal(reading.Chart, again.Chart!);

            wide += sources.Count(source => source.Slots.Length > 1);
            dependent += sources.Count(source => source.Master is not null);
            byte[] slots = new byte[mode.Footprint];
            for (int i = 0; i < 6; i++)
            {
                random.NextBytes(slots);
                foreach (Source source in sources)
                {
                    Check(source, mode, slots, seed);
                    Check(source, again.Chart!.Modes[0], slots, seed);
                    looked++;
                }
            }
        }

        Assert.True(wide > 500 && dependent > 300 && looked > 50_000, $"{wide} {dependent} {looked}");
    }

    private static void Check(Source source, ChartMode mode, byte[] slots, int seed)
    {
        ChartSlot slot = mode.Find(source.Slots[0])!;
        Assert.True(source.Slots[1..].SequenceEqual(slot.LowSlots) && Array.TrueForAll(source.Slots[1..], low => mode.Find(low)!.Role == SlotRole.Fine));
        Assert.Equal(source.Role, slot.Role);
        string expected = source.Meaning(slots);
        ChartRange? said = mode.RangeAt(slot.Slot, slots);
        Assert.True(said is not null && said.Meaning.EndsWith(expected, StringComparison.Ordinal), $"seed {seed}, slot {slot.Slot}: {said?.Meaning} is not {expected}");
        Assert.Equal(source.Effect, said!.Effect);

        // The short form never calls harmless what the full form calls dangerous.
        ChartRange brief = slot.Ranges.Single(range => slots[slot.Slot - 1] >= range.From && slots[slot.Slot - 1] <= range.To);
        Assert.True(brief.Effect == said.Effect || brief.Effect == RangeEffect.Unknown);
    }

    private static List<Source> Sources(Random random)
    {
        int[] free = [.. Enumerable.Range(1, random.Next(8, 40))];
        random.Shuffle(free);
        Queue<int> slots = new(free);
        List<Source> sources = [];
        for (int number = 1; ; number++)
        {
            int width = random.Next(1, 4);
            if (slots.Count < width)
            {
                break;
            }

            (string attribute, SlotRole role, RangeEffect effect) = Attributes[random.Next(Attributes.Length)];
            Source? master = sources.Count > 0 && random.Next(4) == 0 ? sources[random.Next(sources.Count)] : null;
            Source source = new(number, attribute, role, effect, [.. Enumerable.Range(0, width).Select(_ => slots.Dequeue())]) { Master = master, Split = random.Next(0, 255) };
            for (int layer = 0; layer < (master is null ? 1 : 2); layer++)
            {
                source.Layers.Add(Bounds(random, width));
            }

            sources.Add(source);
        }

        return sources;
    }

    /// <summary>Functions with their sets: values over the width, or of one byte to be repeated.</summary>
    private static List<List<(string Written, long Value)>> Bounds(Random random, int width)
    {
        bool repeated = random.Next(2) == 0;
        long top = (1L << (8 * width)) - 1;
        SortedSet<long> all = [0];
        for (int i = random.Next(0, 6); i > 0; i--)
        {
            long octet = random.Next(256);
            all.Add(repeated ? octet * (top / 255) : random.NextInt64(top + 1));
        }

        List<List<(string, long)>> functions = [];
        foreach (long value in all)
        {
            if (functions.Count == 0 || random.Next(2) == 0)
            {
                functions.Add([]);
            }

            functions[^1].Add((repeated ? string.Create(CultureInfo.InvariantCulture, $"{value / (top / 255)}/1") : string.Create(CultureInfo.InvariantCulture, $"{value}/{width}"), value));
        }

        return functions;
    }

    private sealed record Source(int Number, string Attribute, SlotRole Role, RangeEffect Effect, int[] Slots)
    {
        public Source? Master { get; init; }

        /// <summary>Last value of the master's high byte at which the first layer holds.</summary>
        public int Split { get; init; }

        public List<List<List<(string Written, long Value)>>> Layers { get; } = [];

        private string Geometry => "G" + Number.ToString(CultureInfo.InvariantCulture);

        public string Xml()
        {
            StringBuilder functions = new();
            for (int layer = 0; layer < Layers.Count; layer++)
            {
                foreach (List<(string Written, long Value)> function in Layers[layer])
                {
                    string sets = string.Concat(function.Select(set => Set(Name(layer, set.Value), set.Written)));
                    string more = Master is null ? "" : $"ModeMaster=\"{Master.Geometry}_{Master.Attribute}\" ModeFrom=\"{(layer == 0 ? 0 : Split + 1)}/1s\" ModeTo=\"{(layer == 0 ? Split : 255)}/1s\"";
                    functions.Append(Function(Attribute, function[0].Written, sets, more));
                }
            }

            return Channel(string.Join(',', Slots), Attribute, functions.ToString(), Geometry);
        }

        public string Meaning(byte[] slots)
        {
            int layer = Master is null || slots[Master.Slots[0] - 1] <= Split ? 0 : 1;
            long value = Slots.Aggregate(0L, (sum, slot) => (sum * 256) + slots[slot - 1]);
            return Name(layer, Layers[layer].SelectMany(function => function).Last(set => set.Value <= value).Value);
        }

        // A letter no word of a chart is made of, so that nothing is read into it.
        private static string Name(int layer, long value) => string.Create(CultureInfo.InvariantCulture, $"Q{layer}x{value}");
    }
}
