using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>What stood at the end of a capture where no question raises it: our own rules, no source.</summary>
public sealed class StandingSlotsTests
{
    private const byte Level = 150;
    private const int Zooms = 10;
    private static readonly ChartMode Colours = Read("x,1,Red,0,255,\nx,2,Green,0,255,\nx,3,Blue,0,255,\n");
    private static readonly ChartMode Zoom = Read("x,1,Zoom,0,255,\n");

    // Ten zooms stand at 150. A unit of three colours at 1, 11, 21 .. would have one of them as its blue.
    private static readonly AskRig Rig = new(
        new AskSpace([new UniverseId(UniverseProtocol.Sacn, 1)], [Colours]),
        "X",
        [.. Enumerable.Range(0, Zooms).Select(zoom => new AskUnit($"zoom {zoom}", 0, Blue(zoom), Zoom)), new AskUnit("X", 0, 301, Colours)],
        [1],
        [Stood()]);

    [Fact]
    public void What_a_likely_place_rests_on_is_named_and_what_lights_it_anyway_needs_no_word()
    {
        StandingSlots standing = Standing((0, 0.7), (1, 0.296), (2, 0.004));
        double[] probability = Probability((0, 0.7), (1, 0.296), (2, 0.004));
        byte[] levels = Stood();
        Assert.Equal([new RaisedSlot(0, Blue(0), Level), new RaisedSlot(0, Blue(1), Level)], standing.Needed([levels], probability));

        levels[Blue(1) - 3] = 255; // its red
        Assert.Equal([new RaisedSlot(0, Blue(0), Level)], standing.Needed([levels], probability));
    }

    [Fact]
    public void What_only_unlikely_places_rest_on_is_in_doubt_unless_the_wire_tells()
    {
        StandingSlots standing = Standing((0, 0.996), (2, 0.004));
        Assert.Equal([false, true], new[] { 0, 2 }.Select(zoom => standing.IsDoubtful(0, Blue(zoom))));
        Assert.Equal([false, true], new[] { 0, 2 }.Select(zoom => standing.Doubts(0, Blue(zoom) - 2, 0)));
        Assert.True(standing.Stands(0, Blue(2)));
        standing.IsKnown = true;
        Assert.False(standing.Doubts(0, Blue(2) - 2, 0));
    }

    [Fact]
    public void No_more_than_eight_slots_are_named_and_the_likeliest_places_come_first()
    {
        (int, double)[] places = [.. Enumerable.Range(0, Zooms).Select(zoom => (zoom, 0.05 + (0.01 * zoom)))];
        StandingSlots standing = Standing(places);
        Assert.Equal([0, 1], Enumerable.Range(0, Zooms).Where(zoom => standing.IsDoubtful(0, Blue(zoom))));
        Assert.Equal(Enumerable.Range(2, 8).Select(Blue), standing.Needed([Stood()], Probability(places)).Select(slot => slot.Slot));
    }

    [Fact]
    public void Where_several_senders_decide_nothing_is_taken_to_stand_and_elsewhere_it_may_be_at_0()
    {
        StandingSlots standing = Standing((0, 1));
        byte[] bare = Assert.Single(standing.Without([Stood()], [new RaisedSlot(0, Blue(3), Level)])!);
        Assert.Equal([Blue(3)], Enumerable.Range(1, 512).Where(slot => bare[slot - 1] > 0));
        standing.Update(Probability((0, 1)), [], new HashSet<int> { 0 });
        Assert.Null(standing.Without([Stood()], []));
    }

    private static int Blue(int zoom) => 3 + (10 * zoom);

    private static byte[] Stood()
    {
        byte[] levels = new byte[512];
        for (int zoom = 0; zoom < Zooms; zoom++)
        {
            levels[Blue(zoom) - 1] = Level;
        }

        return levels;
    }

    private static StandingSlots Standing(params (int Zoom, double Probability)[] places)
    {
        StandingSlots standing = new(Rig, new SlotUses(Rig));
        standing.Update(Probability(places), [], new HashSet<int>());
        return standing;
    }

    private static double[] Probability(params (int Zoom, double Probability)[] places)
    {
        double[] all = new double[Rig.Space.Count + 1];
        for (int i = 0; i < Rig.Space.Count; i++)
        {
            all[i] = places.Where(place => Blue(place.Zoom) - 2 == Rig.Space.PlaceAt(i).Address).Sum(place => place.Probability);
        }

        return all;
    }

    private static ChartMode Read(string rows)
    {
        using StringReader text = new("mode,slot,function,from,to,meaning\n" + rows);
        return ChartReader.Read("x", text).Chart!.Modes[0];
    }
}
