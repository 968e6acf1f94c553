using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Rigs;

/// <summary>
/// A person who taps when a light reacts: 0.30 s +- 0.12 s late, one move in ten missed, one tap in twenty of nothing
/// (figures of the project's own research, simulated). Knows the light, not the inference.
/// </summary>
public static class SimulatedTaps
{
    private const double Visible = 0.08;

    /// <summary>Taps at the moves of the rig's light.</summary>
    /// <param name="rig">The rig; its truth must be captured.</param>
    /// <param name="from">When they begin, seconds.</param>
    /// <param name="to">When they end, seconds.</param>
    /// <param name="most">How many taps at most.</param>
    /// <param name="random">Chance.</param>
    public static IReadOnlyList<Timestamp> Of(Rig rig, double from, double to, int most, RigRandom random)
    {
        ArgumentNullException.ThrowIfNull(rig);
        Hypothesis truth = rig.Truth ?? throw new ArgumentException("the light follows nothing captured", nameof(rig));
        SlotHistory history = rig.Question.Histories[truth.History];
        byte[][] frames = [.. Enumerable.Range(0, history.Samples).Select(_ => new byte[SlotHistory.SlotCount])];
        for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
        {
            byte now = 0;
            int at = 0;
            foreach ((int sample, byte level) in history.Changes(slot).Append((history.Samples, (byte)0)))
            {
                for (; at < Math.Min(sample, history.Samples); at++)
                {
                    frames[at][slot - 1] = now;
                }

                now = level;
            }
        }

        double[][] light = RigLight.Of(frames, truth.Address, rig.Question.Modes[truth.Mode], null);
        return Taps(light, history.Start, from, to, most, random);
    }

    /// <summary>Taps at the moves of a light of three channels at 30 samples a second.</summary>
    public static IReadOnlyList<Timestamp> Taps(double[][] light, Timestamp start, double from, double to, int most, RigRandom random)
    {
        ArgumentNullException.ThrowIfNull(light);
        ArgumentNullException.ThrowIfNull(random);
        List<double> taps = [];
        double[] rest = [.. light.Select(channel => channel[0])];
        double quiet = double.NegativeInfinity;
        for (int t = 1; t < light[0].Length && taps.Count < most; t++)
        {
            double at = t / (double)SlotHistory.RatePerSecond;
            bool moved = Enumerable.Range(0, light.Length).Any(c => Math.Abs(light[c][t] - rest[c]) >= Visible);
            if (moved)
            {
                for (int c = 0; c < light.Length; c++)
                {
                    rest[c] = light[c][t];
                }
            }

            double tap = at + 0.30 + (0.12 * random.Gaussian());
            if (moved && at > quiet && tap >= from && tap <= to)
            {
                quiet = at + 0.6;
                if (!random.Chance(0.1))
                {
                    taps.Add(tap);
                }
            }
        }

        if (taps.Count > 0 && taps.Count < most && random.Chance(0.05 * taps.Count))
        {
            taps.Add(random.Between(taps[0], taps[^1]));
        }

        return [.. taps.Order().Select(tap => start + Duration.FromSeconds(tap))];
    }
}
