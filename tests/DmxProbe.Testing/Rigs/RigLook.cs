using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>Draws what a cue sends to a unit. The shares are ours: nobody publishes them.</summary>
public static class RigLook
{
    /// <summary>Slots that a person works in a soundcheck.</summary>
    public static bool IsMoved(ChartSlot slot) => slot.Role is SlotRole.Intensity or SlotRole.Position || IsColour(slot);

    /// <summary>A level for each slot; NaN = stays.</summary>
    public static double[] Draw(ChartMode mode, RigRandom random)
    {
        double intensity = random.Chance(0.2) ? 0 : random.Chance(0.25) ? 1 : random.Between(0.1, 1);
        bool plain = random.Chance(0.3);
        bool hasIntensity = mode.Slots.Any(slot => slot.Role == SlotRole.Intensity);
        double[] look = new double[mode.Footprint];
        Array.Fill(look, double.NaN);
        foreach (ChartSlot slot in mode.Slots)
        {
            look[slot.Slot - 1] = slot.Role switch
            {
                SlotRole.Intensity => Math.Round(255 * intensity),
                SlotRole.White => random.Chance(0.5) ? 0 : Math.Round(random.Between(0, 255)),
                _ when IsColour(slot) => Math.Round((plain ? random.Below(3) / 2.0 : random.Unit()) * 255 * (hasIntensity ? 1 : intensity)),
                SlotRole.Position or SlotRole.Fine => random.Below(256),
                SlotRole.Beam => random.Chance(0.3) ? random.Below(256) : double.NaN,
                _ => double.NaN,
            };
        }

        return look;
    }

    private static bool IsColour(ChartSlot slot) =>
        slot.Role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber;
}
