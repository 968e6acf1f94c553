using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.HarbourHall;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>The sheet and the charts of Harbour Hall, read as the program reads them.</summary>
public class HarbourHallSheetTests
{
    private static readonly IReadOnlyDictionary<string, byte[]> Files = HarbourHallFiles.Make(HarbourHallFaults.All);

    [Fact]
    public void The_sheet_and_the_charts_are_read_without_a_word()
    {
        PatchReading sheet = PatchReader.Read(Text("patch.csv"));
        ChartReading[] charts = [.. HarbourCharts.All.Select(Read)];

        Assert.Empty(sheet.Problems);
        Assert.All(charts, c => Assert.Empty(c.Problems));
        Assert.Equal(26, sheet.Sheet!.Units.Count);
        Assert.Empty(PatchCheck.Check(sheet.Sheet, new ChartSet(charts.Select(c => c.Chart!))));
    }

    [Fact]
    public void Roles_and_effects_are_the_ones_meant()
    {
        ChartMode wash = Read(HarbourCharts.Wash).Chart!.Modes[0];
        Assert.Equal(
            [
                SlotRole.Intensity, SlotRole.Red, SlotRole.Green, SlotRole.Blue, SlotRole.Amber, SlotRole.UltraViolet,
                SlotRole.Beam, SlotRole.Shutter, SlotRole.Programme, SlotRole.White,
            ],
            wash.Slots.Select(s => s.Role));
        Assert.Equal(
            [RangeEffect.Open, RangeEffect.Closed, RangeEffect.Flashing, RangeEffect.Open],
            wash.Slots[7].Ranges.Select(r => r.Effect));
        ChartMode head = Read(HarbourCharts.Head).Chart!.Modes[0];
        Assert.Equal([SlotRole.Position, SlotRole.Fine, SlotRole.Position, SlotRole.Fine], head.Slots.Take(4).Select(s => s.Role));
        Assert.Equal(SlotRole.Control, head.Slots[15].Role);
        Assert.Equal(SlotRole.Hazard, Read(HarbourCharts.Hazer).Chart!.Modes[0].Slots[0].Role);
    }

    [Fact]
    public void The_light_model_agrees_with_the_light_that_was_simulated_to_what_emitters_differ()
    {
        LightModel model = new(Read(HarbourCharts.Wash).Chart!.Modes[0]);
        Testing.Network.SeededRandom random = new(12);
        byte[] slots = new byte[10];
        for (int i = 0; i < 1_000; i++)
        {
            foreach (int slot in new[] { 0, 1, 2, 3, 4, 9 })
            {
                // Kept low enough that no part of the model is clamped at full.
                slots[slot] = (byte)random.Next(0, slot == 0 ? 256 : 110);
            }

            LightOutput expected = model.Predict(slots);
            Rgb light = HarbourLight.Of(HarbourCharts.Wash.Modes[0], slots);

            Assert.True(expected.Predictable);
            Assert.InRange(light.R - expected.Red, -0.06, 0.06);
            Assert.InRange(light.G - expected.Green, -0.06, 0.06);
            Assert.InRange(light.B - expected.Blue, -0.06, 0.06);
        }
    }

    private static ChartReading Read(RigChart chart) => ChartReader.Read(chart.Type, Text("charts/" + chart.Type + ".csv"));

    private static StringReader Text(string name) =>
        new(Encoding.UTF8.GetString(Files[HarbourHallFiles.Folder + "/" + name]));
}
