using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Explain;

public sealed class UnitExplainerTests
{
    private const string Chart = "mode,slot,function,from,to,meaning\n" +
        "m,1,Dimmer,0,255,0-100%\nm,2,Red,0,255,\nm,3,Green,0,255,\nm,4,Shutter,0,9,closed\nm,4,Shutter,10,19,open\nm,4,Shutter,20,255,strobe slow to fast\n" +
        "m,5,Colour macro,0,9,no function\nm,5,Colour macro,10,255,macros\nm,6,Control,0,199,no function\nm,6,Control,200,255,reset\n";

    private static readonly UniverseId Universe = new(UniverseProtocol.Sacn, 1);
    private static readonly PatchUnit Unit = new("A", "x", "m", 1, 11, "", "", "", [], "", 2);

    [Theory]
    [InlineData("255 255 0 12 0 0", "A should be lit: red 100 %, green 0 %, blue 0 %.")]
    [InlineData("255 255 0 0 0 0", "A is dark because 'Shutter' slot 4 (1.014) is 0 = 'closed', as long as the sender was heard.")]
    [InlineData("0 255 0 12 0 0", "A is dark because 'Dimmer' slot 1 (1.011) is 0, as long as the sender was heard.")]
    [InlineData("255 0 0 12 0 0", "A is dark because every colour is 0 (1.012 to 1.013), as long as the sender was heard.")]
    [InlineData("255 0 0 99 0 0", "A is dark because the strobe runs but every colour is 0, as long as the sender was heard.")]
    [InlineData("0 9 0 99 0 0", "A is dark because the strobe runs but 'Dimmer' slot 1 (1.011) is 0, as long as the sender was heard.")]
    [InlineData("255 9 0 99 0 0", "A flashes because 'Shutter' slot 4 (1.014) is 99 = 'strobe slow to fast', as long as the sender was heard.")]
    [InlineData("255 9 0 12 40 0", "A is not predictable while 'Colour macro' slot 5 (1.015) is 40 = 'macros': it overrides the colours, as long as the sender was heard.")]
    [InlineData("255 9 0 12 0 210", "A is not predictable while 'Control' slot 6 (1.016) is 210 = 'reset': a reset, lamp or control action, as long as the sender was heard.")]
    [InlineData("255 9 0 12 0", "A is not reached: its slots from 1.016 on are not sent, as long as the sender was heard.")]
    public void The_verdict_is_said_in_words(string slots, string sentence)
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, slots);
        Assert.Equal(sentence, Sentence(trace, 1));
    }

    [Fact]
    public void Since_is_when_the_meaning_began_not_when_the_value_last_moved()
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Feed(trace, 0, 7, "255 255 0 3 0 0");
        Feed(trace, 0, 9, "255 255 0 0 0 0");
        Assert.Equal("A is dark because 'Shutter' slot 4 (1.014) is 0 = 'closed', since 7 s.", Sentence(trace, 10));
        SlotState shutter = trace.Snapshot(0)!.Value.Slots[3];
        Assert.Equal((3, 2L), (shutter.Previous, shutter.Changes));
        Assert.Equal(9, (shutter.Changed!.Value - At(0)).TotalSeconds);
    }

    [Fact]
    public void A_fade_to_zero_is_dark_from_its_last_step()
    {
        SlotTraceAnalyzer trace = Trace();
        for (int i = 0; i <= 5; i++)
        {
            Feed(trace, 0, i, $"{100 - (20 * i)} 255 0 12 0 0");
        }

        Assert.Equal("A is dark because 'Dimmer' slot 1 (1.011) is 0, since 5 s.", Sentence(trace, 6));
    }

    [Fact]
    public void Every_colour_at_zero_counts_from_the_last_one()
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 9 9 12 0 0");
        Feed(trace, 0, 1, "255 0 9 12 0 0");
        Feed(trace, 0, 3, "255 0 0 12 0 0");
        Assert.Equal("A is dark because every colour is 0 (1.012 to 1.013), since 3 s.", Sentence(trace, 4));
    }

    [Fact]
    public void What_comes_after_the_time_asked_does_not_count()
    {
        SlotTraceAnalyzer trace = new(new HashSet<UniverseId> { Universe }, Unit.Address, Mode()) { Until = () => At(2) };
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Feed(trace, 0, 2, "128 255 0 12 0 0");
        Feed(trace, 0, 3, "0 255 0 12 0 0");
        Assert.Equal("A should be lit: red 50 %, green 0 %, blue 0 %.", Sentence(trace, 2));
    }

    [Fact]
    public void Senders_in_charge_that_do_not_agree_are_both_told()
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Feed(trace, 1, 0, "0 255 0 12 0 0");
        Explanation both = Explained(trace, 1, new ObeyedSpan(At(0), At(9), [0, 1], 100));
        Assert.Null(both.State);
        Assert.Equal("2 senders decide A together and do not agree: by 'S0' it should be lit: red 100 %, green 0 %, blue 0 %; by 'S1' it is dark because 'Dimmer' slot 1 (1.011) is 0, as long as the sender was heard.",
            ExplainNarrator.Sentence(both, Seconds));
        Explanation one = Explained(trace, 1, new ObeyedSpan(At(0), At(9), [1], 120));
        Assert.Equal((UnitState.Dark, 120), (one.State, one.Senders[0].Priority));
        Assert.False(one.Senders[1].InCharge);
    }

    [Fact]
    public void A_sender_that_fell_silent_is_not_in_charge()
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Assert.Equal("Nobody sends sACN 1 at that time; 'S0' was heard last at 0 s: A does what it is set to do on loss of data.", Sentence(trace, 4));
        Assert.Equal("Nothing sends universe 1 of the sheet, on which A is: look at the controller, the network and the numbering first.",
            ExplainNarrator.Sentence(UnitExplainer.Explain(Unit, null, Trace(), Describe, [], At(1)), Seconds));
    }

    [Theory]
    [InlineData("", "127.0.0.1", "127.0.0.1 was heard last")]
    [InlineData("", "", "whoever drives it was heard last")]
    public void A_sender_without_a_name_is_told_by_its_address(string name, string address, string expected)
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Explanation silent = UnitExplainer.Explain(Unit, Universe, trace, sender => Describe(sender) with { Name = name, Address = address }, [], At(4));
        Assert.Contains(expected, ExplainNarrator.Sentence(silent, Seconds), StringComparison.Ordinal);
    }

    [Fact]
    public void Only_levels_of_the_universe_count()
    {
        SlotTraceAnalyzer trace = Trace();
        Feed(trace, 0, 0, "255 255 0 12 0 0");
        Feed(trace, 0, 1, "0 0 0 0 0 0", startCode: 0xDD);
        Feed(trace, 0, 1, "0 0 0 0 0 0", flags: FrameFlags.Preview);
        Feed(trace, 0, 1, "0 0 0 0 0 0", flags: FrameFlags.Terminated);
        Feed(trace, 1, 1, "0 0 0 0 0 0", universe: new UniverseId(UniverseProtocol.ArtNet, 1));
        Assert.Equal("A should be lit: red 100 %, green 0 %, blue 0 %.", Sentence(trace, 2));
        Assert.Null(trace.Snapshot(1));
    }

    // The shares are those of the chart's ranges, worked out by hand: 10 to 255 is a ramp of 245 steps, 0 to 127 one of 127.
    [Theory]
    [InlineData("127 0 10 0", "A is dark")] // the ramp of white begins at 10
    [InlineData("127 0 9 255", "A should be lit: amber 100 %, and dimmed to 100 %.")]
    [InlineData("127 128 132 0", "A should be lit: red 50 %, white 50 %, and dimmed to 100 %.")]
    [InlineData("64 128 255 64", "A should be lit: red 50 %, white 100 %, amber 25 %, and dimmed to 50 %.")]
    [InlineData("32 128 255 191", "A should be lit: red 50 %, white 100 %, amber 75 %, and dimmed to 25 %.")]
    [InlineData("200 128 255 0", "A should be lit: red 50 %, white 100 %, and dimmed to 100 %.")]
    public void Emitters_are_told_by_the_ranges_of_the_chart_not_by_the_bare_value(string slots, string sentence)
    {
        const string Ranges = "mode,slot,function,from,to,meaning\nm,1,Dimmer,0,127,0-100%\nm,1,Dimmer,128,255,open\nm,2,Red,0,255,0-100%\n" +
            "m,3,White,0,9,no function\nm,3,White,10,255,0-100%\nm,4,Amber,0,127,0-50%\nm,4,Amber,128,255,50-100%\n";
        using StringReader text = new(Ranges);
        SlotTraceAnalyzer trace = new(new HashSet<UniverseId> { Universe }, Unit.Address, ChartReader.Read("x", text).Chart!.Modes[0]);
        Feed(trace, 0, 0, slots);
        Assert.StartsWith(sentence, Sentence(trace, 1), StringComparison.Ordinal);
    }

    [Fact]
    public void A_slot_that_depends_on_another_means_what_both_say()
    {
        const string Dependent = "mode,slot,function,from,to,meaning,when\nm,1,Dimmer,0,255,0-100%,\nm,2,Select,0,255,0-100%,\n" +
            "m,3,Shutter,0,255,open,\nm,3,Shutter,0,99,closed,2:100-255\nm,3,Shutter,100,255,open,2:100-255\n";
        using StringReader text = new(Dependent);
        SlotTraceAnalyzer trace = new(new HashSet<UniverseId> { Universe }, Unit.Address, ChartReader.Read("x", text).Chart!.Modes[0]);
        Feed(trace, 0, 0, "255 99 20");
        Assert.Equal("open", trace.Snapshot(0)!.Value.Slots[2].Range!.Meaning);
        Feed(trace, 0, 5, "255 100 20"); // the shutter's own value stays
        SlotState shutter = trace.Snapshot(0)!.Value.Slots[2];
        Assert.Equal(("closed", 0L, 5.0), (shutter.Range!.Meaning, shutter.Changes, (shutter.MeaningSince!.Value - At(0)).TotalSeconds));
        Assert.Equal("A is dark because 'Shutter' slot 3 (1.013) is 20 = 'closed', since 5 s.", Sentence(trace, 6));
    }

    [Fact]
    public void Slots_that_come_from_two_senders_are_put_together_for_each_kind_of_receiver()
    {
        // S0 lights it red; S1 takes the shutter alone by START code DDh and closes it.
        SlotTraceAnalyzer trace = Trace();
        ArbitrationAnalyzer arbitration = new() { Follow = _ => true };
        Feed(trace, 0, 0, "255 255 0 12 0 0", also: arbitration);
        Feed(trace, 1, 0.1, "0 0 0 0 0 0", also: arbitration, priority: 90);
        Feed(trace, 1, 0.2, "0 0 0 150 0 0", startCode: 0xDD, also: arbitration, priority: 90);
        arbitration.OnTime(At(1));
        Explanation found = UnitExplainer.Explain(Unit, Universe, trace, Describe, [], At(1), arbitration.Ask(0, 11, 16));
        Assert.Equal(
            "A depends on the receiver: where the receiver follows per-address priority, it is dark because 'Shutter' slot 4 (1.014) is 0 = 'closed', since 0 s; "
                + "where it takes the universe of the highest packet priority as a whole, it should be lit: red 100 %, green 0 %, blue 0 %.",
            ExplainNarrator.Sentence(found, Seconds));
        Assert.Null(found.State);
        Assert.Equal([0, 0, 0, 1, 0, 0], found.Winners.Select(answer => answer.Cases[0].Senders.Single()));
    }

    [Fact]
    public void Levels_held_by_synchronization_count_as_they_were_put_out()
    {
        SlotTraceAnalyzer trace = Trace();
        ArbitrationAnalyzer arbitration = new() { Follow = _ => true };
        Feed(trace, 0, 0, "255 255 0 12 0 0", also: arbitration, sync: 7);
        arbitration.OnEvent(new LinkEvent(LinkEventKind.SacnSync, At(0.1), 1, 0, default, 7, 0));
        Feed(trace, 0, 0.2, "0 0 0 0 0 0", also: arbitration, sync: 7);
        arbitration.OnTime(At(1));
        Explanation found = UnitExplainer.Explain(Unit, Universe, trace, Describe, [], At(1), arbitration.Ask(0, 11, 16));
        Assert.Equal("A should be lit: red 100 %, green 0 %, blue 0 %.", ExplainNarrator.Sentence(found, Seconds));
        Assert.Equal(UnitState.Lit, found.State);
    }

    private static ChartMode Mode()
    {
        using StringReader text = new(Chart);
        return ChartReader.Read("x", text).Chart!.Modes[0];
    }

    private static SlotTraceAnalyzer Trace() => new(new HashSet<UniverseId> { Universe }, Unit.Address, Mode());

    private static Timestamp At(double seconds) => Timestamp.FromUnixNanoseconds(1_000_000_000_000) + Duration.FromSeconds(seconds);

    private static string Seconds(Timestamp moment) => string.Create(CultureInfo.InvariantCulture, $"{(moment - At(0)).TotalSeconds:0} s");

    private static SenderSummary Describe(int sender) =>
        new() { Index = sender, Protocol = UniverseProtocol.Sacn, Name = $"S{sender}", Address = "10.0.0.1", Addresses = [] };

    private static Explanation Explained(SlotTraceAnalyzer trace, double seconds, params ObeyedSpan[] obeyed) =>
        UnitExplainer.Explain(Unit, Universe, trace, Describe, obeyed, At(seconds));

    private static string Sentence(SlotTraceAnalyzer trace, double seconds) => ExplainNarrator.Sentence(Explained(trace, seconds), Seconds);

    private static void Feed(SlotTraceAnalyzer trace, int stream, double seconds, string values, byte startCode = 0, FrameFlags flags = default, UniverseId? universe = null, IFrameSink? also = null, byte priority = 100, ushort sync = 0)
    {
        byte[] slots = [.. new byte[10], .. values.Split(' ').Select(value => byte.Parse(value, CultureInfo.InvariantCulture))];
        DmxFrame frame = new() { Time = At(seconds), Record = 1, Universe = universe ?? Universe, Stream = stream, Sender = stream, UniverseIndex = 0, StartCode = startCode, Flags = flags, Slots = slots, Sequence = (byte)(seconds * 10), Priority = priority, SyncAddress = sync };
        trace.OnFrame(in frame);
        also?.OnFrame(in frame);
    }
}
