using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>What was asked for against what stands on the wire: from half of the level on a slot is up, above 8 of 255 another one is up too.</summary>
public class WireCheckTests
{
    private static readonly ChartMode Dimmer = EvaluationCharts.Of("dimmer").Modes[0];
    private static readonly AskRig Rig = new(
        new AskSpace([new UniverseId(UniverseProtocol.Sacn, 1)], [Dimmer]),
        "X",
        [.. Enumerable.Range(1, 3).Select(address => new AskUnit($"D{address}", 0, address, Dimmer))],
        [1],
        [new byte[SlotHistory.SlotCount]]);

    [Theory]
    [InlineData(127, 8, 0, 0)]
    [InlineData(126, 8, 1, 0)]
    [InlineData(127, 9, 0, 1)]
    [InlineData(0, 255, 1, 1)]
    public void Half_of_the_level_is_up_and_a_few_counts_are_down(byte asked, byte other, int missing, int extra)
    {
        byte[] wire = new byte[SlotHistory.SlotCount];
        (wire[0], wire[1], wire[2]) = (asked, 255, other);
        wire[100] = 255; // of no unit of the sheet
        AskQuestion question = new([new RaisedSlot(0, 1, 255), new RaisedSlot(0, 2, 255)], [wire], 1, 1);
        WireCheck check = WireCheck.Of(question, [wire], new AskSafety(Rig));
        Assert.Equal((missing, extra, 2), (check.Missing.Count, check.Extra.Count, check.Asked));
        Assert.False(check.IsNothingUp);
        Assert.Equal(missing + extra == 0, check.Words(Rig).Length == 0);
        Assert.True(WireCheck.Of(question, [new byte[SlotHistory.SlotCount]], new AskSafety(Rig)).IsNothingUp);
    }
}
