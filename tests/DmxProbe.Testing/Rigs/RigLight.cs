using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Testing.Rigs;

/// <summary>The light that a unit really gives, sample by sample: red, green and blue, before response and lag.</summary>
public static class RigLight
{
    /// <summary>Computes the light.</summary>
    /// <param name="frames">Levels by sample.</param>
    /// <param name="address">Start address the unit really has.</param>
    /// <param name="mode">Mode it is really in.</param>
    /// <param name="strength">Strength of the emitter of a role; null = as the chart has it, limited to 1 like the model.</param>
    public static double[][] Of(byte[][] frames, int address, ChartMode mode, Func<SlotRole, double>? strength)
    {
        LightModel model = new(mode);
        ChartSlot[] colours = [.. mode.Slots.Where(slot => slot.Role is SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber)];
        ChartSlot[] shutters = [.. mode.Slots.Where(slot => slot.Role == SlotRole.Shutter)];
        double[][] light = [new double[frames.Length], new double[frames.Length], new double[frames.Length]];
        byte[] levels = new byte[mode.Footprint];
        byte[] alone = new byte[mode.Footprint];
        for (int t = 0; t < frames.Length; t++)
        {
            Array.Clear(levels);
            frames[t].AsSpan(address - 1, Math.Min(levels.Length, 513 - address)).CopyTo(levels);
            double flash = 1;
            if (!model.Predict(levels).Predictable)
            {
                flash = OpenFlashing(levels, shutters, t);
                if (!model.Predict(levels).Predictable)
                {
                    // A programme of its own: something slow that no slot explains.
                    double wave = 0.5 + (0.5 * Math.Sin(2 * Math.PI * t / 97));
                    light[0][t] = light[1][t] = light[2][t] = wave;
                    continue;
                }
            }

            if (colours.Length == 0 || strength is null)
            {
                Add(light, t, model.Predict(levels), flash);
                continue;
            }

            foreach (ChartSlot colour in colours)
            {
                levels.CopyTo(alone, 0);
                foreach (ChartSlot other in colours)
                {
                    alone[other.Slot - 1] = other == colour ? levels[other.Slot - 1] : (byte)0;
                }

                Add(light, t, model.Predict(alone), flash * strength(colour.Role));
            }
        }

        return light;
    }

    /// <summary>Share of the samples at which a strobe, a programme or a control action decides.</summary>
    public static double UnpredictableShare(byte[][] frames, int address, ChartMode mode)
    {
        LightModel model = new(mode);
        int present = Math.Min(mode.Footprint, 513 - address);
        return frames.Count(slots => !model.Predict(slots.AsSpan(address - 1, present)).Predictable) / (double)frames.Length;
    }

    /// <summary>Opens a shutter that flashes; returns whether the flash is on at this sample.</summary>
    private static double OpenFlashing(byte[] levels, ChartSlot[] shutters, int t)
    {
        double flash = 1;
        foreach (ChartSlot shutter in shutters)
        {
            byte level = levels[shutter.Slot - 1];
            ChartRange? range = shutter.Ranges.FirstOrDefault(range => range.From <= level && level <= range.To);
            if (range?.Effect == RangeEffect.Flashing)
            {
                levels[shutter.Slot - 1] = (byte)shutter.Ranges.First(open => open.Effect is RangeEffect.Open or RangeEffect.NoFunction).To;
                double perSecond = 1 + (12.0 * level / 255);
                flash = (t * perSecond / 30 % 1) < 0.4 ? 1 : 0;
            }
        }

        return flash;
    }

    private static void Add(double[][] light, int t, LightOutput output, double factor)
    {
        light[0][t] += output.Red * factor;
        light[1][t] += output.Green * factor;
        light[2][t] += output.Blue * factor;
    }
}
