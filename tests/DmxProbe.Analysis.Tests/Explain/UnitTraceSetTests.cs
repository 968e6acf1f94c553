using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Explain;

public sealed class UnitTraceSetTests
{
    private static readonly UniverseId First = new(UniverseProtocol.Sacn, 1);
    private static readonly UniverseId Second = new(UniverseProtocol.Sacn, 2);

    [Fact]
    public void A_unit_followed_in_a_set_is_explained_as_one_followed_alone()
    {
        // Random levels with repeats: the set leaves repeats out and must come to the same states.
        Random random = new(11);
        ChartMode mode = Mode();
        TracedUnit[] units = [.. Enumerable.Range(0, 5).Select(i => new TracedUnit(Unit(i), mode, new HashSet<UniverseId> { First, Second }))];
        UnitTraceSet set = new(units);
        SlotTraceAnalyzer alone = new(units[3].Universes, units[3].Unit.Address, mode);
        byte[] slots = new byte[20];
        for (int frame = 0; frame < 400; frame++)
        {
            if (random.Next(3) == 0)
            {
                slots[random.Next(20)] = (byte)random.Next(256);
            }

            UniverseId universe = random.Next(4) == 0 ? Second : First;
            ReadOnlySpan<byte> sent = slots.AsSpan(0, random.Next(10) == 0 ? 9 : 20);
            set.OnFrame(Frame(frame * 0.025, universe, sent));
            alone.OnFrame(Frame(frame * 0.025, universe, sent));
        }

        foreach (UniverseId universe in new[] { First, Second })
        {
            Explanation together = set.Explain(units[3].Unit.Unit, universe, Describe, [], At(10))!;
            Explanation single = UnitExplainer.Explain(units[3].Unit, universe, alone, Describe, [], At(10));
            Assert.Equal(single.Senders.Select(view => view.Last), together.Senders.Select(view => view.Last));
            Assert.Equal(single.Senders.SelectMany(view => view.Slots), together.Senders.SelectMany(view => view.Slots));
            Assert.Equal(single.State, together.State);
        }
    }

    [Fact]
    public void A_unit_that_is_not_followed_is_not_explained() =>
        Assert.Null(new UnitTraceSet([]).Explain("A", First, Describe, [], At(0)));

    [Fact]
    public void A_sender_that_only_repeats_itself_stays_in_charge()
    {
        UnitTraceSet set = new([new TracedUnit(Unit(0), Mode(), new HashSet<UniverseId> { First })]);
        for (int second = 0; second <= 30; second++)
        {
            set.OnFrame(Frame(second, First, [255, 255, 0]));
        }

        Assert.True(set.Explain("U0", First, Describe, [], At(31))!.Senders[0].InCharge);
        Assert.False(set.Explain("U0", First, Describe, [], At(40))!.Senders[0].InCharge);
    }

    private static PatchUnit Unit(int place) => new($"U{place}", "x", "m", 1, 1 + (3 * place), "", "", "", [], "", 2);

    private static ChartMode Mode()
    {
        using StringReader text = new("mode,slot,function,from,to,meaning\nm,1,Dimmer,0,255,0-100%\nm,2,Red,0,255,\nm,3,Shutter,0,9,closed\nm,3,Shutter,10,255,open\n");
        return ChartReader.Read("x", text).Chart!.Modes[0];
    }

    private static SenderSummary Describe(int sender) =>
        new() { Index = sender, Protocol = UniverseProtocol.Sacn, Name = $"S{sender}", Address = "10.0.0.1", Addresses = [] };

    private static Timestamp At(double seconds) => Timestamp.FromUnixNanoseconds(1_000_000_000_000) + Duration.FromSeconds(seconds);

    private static DmxFrame Frame(double seconds, UniverseId universe, ReadOnlySpan<byte> slots) => new()
    {
        Time = At(seconds),
        Record = 1,
        Universe = universe,
        Stream = universe.Number - 1,
        Sender = 0,
        UniverseIndex = universe.Number - 1,
        Slots = slots,
    };
}
