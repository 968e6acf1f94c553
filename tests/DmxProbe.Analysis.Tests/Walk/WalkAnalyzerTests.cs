using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Walk;

public sealed class WalkAnalyzerTests
{
    private const string Chart = "mode,slot,function,from,to,meaning\n" +
        "m,1,Dimmer,0,255,0-100%\nm,2,Pan,0,255,\nm,3,Pan fine,0,255,\nm,4,Shutter,0,9,closed\nm,4,Shutter,10,19,open\nm,4,Shutter,20,255,strobe\nm,5,Control,0,199,no function\nm,5,Control,200,255,reset\nm,6,Spare,0,255,not used\n";

    private static readonly UniverseId Universe = new(UniverseProtocol.Sacn, 1);
    private readonly byte[] _levels = new byte[60];
    private double _now;

    [Fact]
    public void One_fader_is_named_and_ticked_with_the_ranges_it_went_through()
    {
        WalkAnalyzer walk = Of(Unit("A", 1));
        Send(walk);
        Fade(walk, 1, 200);
        Wait(walk, 2);
        Jump(walk, 4, 12);
        Wait(walk, 2);
        WalkResult result = walk.Snapshot();
        Assert.Equal(["Dimmer 0-200 Alone", "Shutter 0-12 Alone"], result.Moves.Select(move => $"{Function(result, move).Name} {move.First}-{move.Last} {move.Kind}"));
        Assert.Equal([true, true, false], Named(result, "Shutter").Visited);
        Assert.Equal((1, 0, 200), (Named(result, "Dimmer").Alone, Named(result, "Dimmer").Lowest, Named(result, "Dimmer").Highest));
        Assert.False(Named(result, "Pan").Exercised);
    }

    [Fact]
    public void A_high_byte_and_its_low_byte_are_one_function()
    {
        WalkAnalyzer walk = Of(Unit("A", 1));
        Send(walk);
        for (int i = 1; i <= 20; i++)
        {
            (_levels[1], _levels[2]) = ((byte)(i * 3), (byte)(i * 77 % 256));
            Wait(walk, 0.025);
        }

        WalkMove move = Assert.Single(walk.Snapshot().Moves);
        Assert.Equal((0, 60, MoveKind.Alone), (move.First, move.Last, move.Kind));
    }

    [Fact]
    public void Two_faders_one_after_the_other_are_each_alone()
    {
        WalkAnalyzer walk = Of(Unit("A", 1), Unit("B", 11));
        Send(walk);
        Fade(walk, 1, 100);
        Fade(walk, 14, 100);
        Assert.Equal([MoveKind.Alone, MoveKind.Alone], walk.Snapshot().Moves.Select(move => move.Kind));
    }

    [Fact]
    public void One_function_of_several_units_is_a_group_and_other_functions_make_a_cue()
    {
        WalkAnalyzer walk = Of(Unit("A", 1), Unit("B", 11));
        Send(walk);
        for (byte level = 1; level < 20; level++)
        {
            (_levels[0], _levels[10]) = (level, level);
            Wait(walk, 0.025);
        }

        Wait(walk, 2);
        Assert.All(walk.Snapshot().Moves, move => Assert.Equal((MoveKind.Together, 1), (move.Kind, move.Others)));
        for (byte level = 20; level < 40; level++)
        {
            (_levels[0], _levels[13]) = (level, level);
            Wait(walk, 0.025);
        }

        WalkResult result = walk.Snapshot();
        Assert.Equal((2, 2L), (result.Moves.Count, result.MovesInCues));
        Assert.Equal((1, 1L), (Named(result, "Dimmer").Together, Named(result, "Dimmer").InCue));
        Assert.False(result.Functions.Single(function => function is { Target: 1, Name: "Shutter" }).Exercised);
    }

    [Fact]
    public void What_does_not_fit_the_sheet_is_told()
    {
        WalkAnalyzer walk = Of(Unit("A", 1), Unit("B", 4), Unit("C", 21), Unit("D", 21, "C"));
        Send(walk);
        foreach (int slot in new[] { 50, 4, 21, 5, 25 })
        {
            Jump(walk, slot, 250);
            Wait(walk, 2);
        }

        WalkResult result = walk.Snapshot();
        Assert.Equal(
            [
                "slot-of-no-unit: slot 50 of sACN 1 moved and belongs to no unit of the sheet",
                "slot-of-two-units: slot 4 of sACN 1 moved and belongs to A and B, which overlap on the sheet",
                "slot-of-another-unit: slot 21 of sACN 1 moved while A was worked on; by the sheet it is 'Dimmer' of C and D",
                "slot-of-two-units: slot 5 of sACN 1 moved and belongs to A and B, which overlap on the sheet",
                "dangerous-function-moved: 'Control' of A moved, which is not to be exercised: reset, lamp or control",
                "dangerous-function-moved: 'Control' of C moved, which is not to be exercised: reset, lamp or control",
                "slot-of-another-unit: slot 25 of sACN 1 moved while A was worked on; by the sheet it is 'Control' of C and D",
            ],
            WalkReview.Remarks(result, [new WalkNote(At(3), "A")]).Select(remark => $"{remark.Id}: {remark.Text}"));
    }

    [Fact]
    public void Dangerous_functions_and_those_that_do_nothing_are_never_missing()
    {
        WalkResult result = Of(Unit("A", 1)).Snapshot();
        Assert.Equal("reset, lamp or control", Named(result, "Control").Danger);
        Assert.True(Named(result, "Spare").DoesNothing);
        WalkResult unknown = new WalkAnalyzer([new WalkTarget(Unit("X", 1), Universe, null, 2)]).Snapshot();
        Assert.All(unknown.Functions, function => Assert.Equal("not understood", function.Danger));
    }

    [Fact]
    public void First_levels_other_start_codes_and_new_slots_are_no_moves()
    {
        WalkAnalyzer walk = Of(Unit("A", 1));
        _levels[0] = 200;
        Send(walk, slots: 3);
        _levels[3] = 90;
        Send(walk);
        _levels[0] = 10;
        Send(walk, startCode: 0xCC);
        Send(walk, flags: FrameFlags.Preview);
        _levels[0] = 200;
        Send(walk);
        Assert.Empty(walk.Snapshot().Moves);
    }

    [Fact]
    public void The_result_does_not_depend_on_how_often_time_is_told_or_asked()
    {
        string[] runs = [.. new[] { 0, 1, 7 }.Select(every =>
        {
            (_now, _levels[0], _levels[3]) = (0, 0, 0);
            WalkAnalyzer walk = Of(Unit("A", 1));
            Send(walk);
            for (int i = 0; i < 200; i++)
            {
                _levels[i % 90 < 45 ? 0 : 3] = (byte)(i * 5 % 256);
                Wait(walk, i % 45 == 0 ? 1 : 0.05);
                if (every > 0 && i % every == 0)
                {
                    walk.OnTime(At(_now));
                    walk.Snapshot();
                }
            }

            return string.Join(';', walk.Snapshot().Moves.Select(move => $"{move.From} {move.To} {move.Slot} {move.First} {move.Last} {move.Kind}"));
        })];
        Assert.Single(runs.Distinct());
        Assert.NotEmpty(runs[0]);
    }

    [Fact]
    public void A_busy_show_keeps_state_bounded()
    {
        WalkAnalyzer walk = Of(Unit("A", 1));
        byte[] levels = new byte[512];
        Random random = new(5);
        for (int i = 0; i < 2000; i++)
        {
            random.NextBytes(levels);
            _now += 0.9;
            walk.OnFrame(Frame(levels, 0, default));
        }

        WalkResult result = walk.Snapshot();
        Assert.Equal(WalkAnalyzer.MostMoves, result.Moves.Count);
        Assert.True(result.MovesNotListed > 0);
    }

    [Fact]
    public void Units_are_walked_by_position_then_chain_then_sheet()
    {
        PatchUnit Placed(string name, string position, string chain) => Unit(name, 1) with { Position = position, Chain = chain };
        WalkResult result = Of(Placed("1", "bar", "a 2"), Placed("2", "floor", ""), Placed("3", "Bar", "a 1"), Placed("4", "floor", "")).Snapshot();
        Assert.Equal("3 1 2 4", string.Join(' ', WalkReview.Order(result).Select(target => result.Targets[target].Unit.Unit)));
    }

    private static Timestamp At(double seconds) => Timestamp.FromUnixNanoseconds(1_000_000_000_000) + Duration.FromSeconds(seconds);

    private static PatchUnit Unit(string name, int address, params string[] shares) => new(name, "x", "m", 1, address, "", "", "", shares, "", 2);

    private static WalkAnalyzer Of(params PatchUnit[] units)
    {
        using StringReader text = new(Chart);
        ChartMode mode = ChartReader.Read("x", text).Chart!.Modes[0];
        return new WalkAnalyzer([.. units.Select(unit => new WalkTarget(unit, Universe, mode, mode.Footprint))]);
    }

    private static WalkFunction Function(WalkResult result, WalkMove move) => result.Functions[move.Functions[0]];

    private static WalkFunction Named(WalkResult result, string name) => result.Functions.First(function => function.Name == name);

    private DmxFrame Frame(byte[] slots, byte startCode, FrameFlags flags) =>
        new() { Time = At(_now), Record = 1, Universe = Universe, Stream = 0, Sender = 0, UniverseIndex = 0, StartCode = startCode, Flags = flags, Slots = slots };

    private void Send(WalkAnalyzer walk, byte startCode = 0, FrameFlags flags = default, int slots = 60) => walk.OnFrame(Frame(_levels[..slots], startCode, flags));

    private void Wait(WalkAnalyzer walk, double seconds)
    {
        _now += seconds;
        Send(walk);
    }

    private void Jump(WalkAnalyzer walk, int slot, byte level)
    {
        _levels[slot - 1] = level;
        Wait(walk, 0.025);
    }

    private void Fade(WalkAnalyzer walk, int slot, int to)
    {
        for (int level = _levels[slot - 1]; level <= to; level += 5)
        {
            _levels[slot - 1] = (byte)level;
            Wait(walk, 0.025);
        }
    }
}
