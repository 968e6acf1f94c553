using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>
/// Whether another place carries the light that a unit gives, but for strength and ground: then no light, however clear, tells
/// the two apart. A property of the rig and its fault: noise, camera and locating have no part in it.
/// </summary>
internal static class LightTwins
{
    /// <summary>
    /// Share of the light's variance that every other place must leave over. Our choice: about what a bent response curve
    /// leaves between two lights that are else the same.
    /// </summary>
    public const double LeastOwn = 0.05;

    // Three looks a second see every cue and fade.
    private const int Every = 10;

    /// <summary>Whether there is such a place.</summary>
    /// <param name="own">Red, green and blue of the unit.</param>
    /// <param name="wire">The levels that came over the wire.</param>
    /// <param name="modes">The modes that it might be in.</param>
    /// <param name="truth">Where it reads.</param>
    public static bool Has(double[][] own, WireLevels wire, IReadOnlyList<ChartMode> modes, (UniverseId Universe, int Address, ChartMode Mode) truth)
    {
        double[][] light = [.. own.Select(channel => channel.Where((_, t) => t % Every == 0).ToArray())];
        double all = light.Sum(Variance);
        foreach (UniverseId universe in wire.Universes)
        {
            byte[][] frames = [.. wire.Find(universe)!.Where((_, t) => t % Every == 0)];
            int last = frames.Max(frame => Array.FindLastIndex(frame, level => level > 0)) + 1;
            foreach (ChartMode mode in modes)
            {
                for (int address = 1; address <= last; address++)
                {
                    if ((universe, address, mode) != truth && LeftOver(light, RigLight.Of(frames, address, mode, null)) < LeastOwn * all)
                    {
                        return true;
                    }
                }
            }
        }

        return false;
    }

    // What remains of a light once another, weaker or stronger and on another ground, is taken from it, channel by channel.
    private static double LeftOver(double[][] light, double[][] other)
    {
        double left = 0;
        for (int c = 0; c < light.Length; c++)
        {
            double variance = Variance(light[c]), with = Variance(other[c]), both = Covariance(light[c], other[c]);
            left += both > 0 && with > 0 ? variance - (both * both / with) : variance;
        }

        return left;
    }

    private static double Variance(double[] values) => Covariance(values, values);

    private static double Covariance(double[] one, double[] other)
    {
        double first = one.Average(), second = other.Average(), sum = 0;
        for (int t = 0; t < one.Length; t++)
        {
            sum += (one[t] - first) * (other[t] - second);
        }

        return sum / one.Length;
    }
}
