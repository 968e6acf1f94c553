using System.Runtime.InteropServices;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// Finds how often a line was sampled from the times of its edges, where a file counts time finer than that. All edges
/// of all channels lie on multiples of the sampling period from the first time of the file.
/// </summary>
internal sealed class SamplingGrid
{
    // Fewer edges may lie on a coarse grid by chance: with 64, a grid twice as coarse fits once in 2^64.
    private const int FewestEdges = 64;
    private const int MostEdges = 16_384;

    // Half a DMX512 bit (standards-facts A1): a coarser recording shows no slots, so a coarser grid is the signal's own.
    private const double CoarsestSeconds = 2e-6;

    // A grid that is no whole number of ticks was rounded or cut to ticks; it must be well above that to be told.
    private const double FewestTicks = 4;
    private const double RoundedBy = 1.001;

    // What logic analysers offer, in Hz (common practice, no source); decades of the others follow from 1, 2, 4, 5 and 8.
    private static readonly long[] UsualRates =
    [
        500_000, 1_000_000, 2_000_000, 3_000_000, 4_000_000, 5_000_000, 6_000_000, 6_250_000, 8_000_000, 10_000_000, 12_000_000,
        12_500_000, 15_000_000, 16_000_000, 20_000_000, 24_000_000, 25_000_000, 30_000_000, 32_000_000, 40_000_000, 48_000_000, 50_000_000,
        60_000_000, 62_500_000, 64_000_000, 80_000_000, 96_000_000, 100_000_000, 120_000_000, 125_000_000, 150_000_000, 160_000_000,
        200_000_000, 240_000_000, 250_000_000, 300_000_000, 320_000_000, 400_000_000, 480_000_000, 500_000_000, 800_000_000, 1_000_000_000,
    ];

    private readonly List<long> _ticks = [];
    private readonly long _ticksPerSecond;

    /// <summary>Collects the edges of a slice.</summary>
    public SamplingGrid(EdgeSlice slice, long ticksPerSecond)
    {
        _ticksPerSecond = ticksPerSecond;
        foreach (SliceRun run in slice.Runs)
        {
            if (!EdgeRun.TryParse(slice.Bytes(run), out EdgeRun edges))
            {
                continue;
            }

            long at = edges.StartTick;
            ReadOnlySpan<uint> steps = edges.Steps;
            for (int i = 0; i < Math.Min(steps.Length, MostEdges); i++)
            {
                at += steps[i];
                if (steps[i] != EdgeRun.NoEdge)
                {
                    _ticks.Add(at);
                }
            }
        }
    }

    /// <summary>Whether all edges lie on the grid of a rate, rounded or cut to whole ticks.</summary>
    public bool Fits(long rate)
    {
        foreach (long tick in CollectionsMarshal.AsSpan(_ticks))
        {
            Int128 scaled = (Int128)tick * rate;
            double off = (double)(scaled % _ticksPerSecond) / _ticksPerSecond; // in periods
            if (Math.Min(off, 1 - off) * _ticksPerSecond > RoundedBy * rate)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Finds the sampling period.</summary>
    /// <param name="stated">What the file says in passing, 0 for nothing.</param>
    /// <returns>The period in ticks, and how it is known: a sentence, or null where the tick of the file is the period.</returns>
    public (double Ticks, string? Sentence) Find(long stated)
    {
        if (stated > 0 && stated <= _ticksPerSecond && _ticks.Count > 0 && Fits(stated))
        {
            return stated == _ticksPerSecond
                ? (1, null)
                : Found((double)_ticksPerSecond / stated, "the rate its comment states, and all edges looked at lie on it");
        }

        if (_ticks.Count < FewestEdges)
        {
            return (1, $"The recording has too few edges ({_ticks.Count}) to tell how often it was sampled; the unit of its clock is taken as its resolution.");
        }

        long divisor = 0;
        foreach (long tick in _ticks)
        {
            divisor = (long)System.Numerics.BigInteger.GreatestCommonDivisor(divisor, tick);
        }

        double coarsest = CoarsestSeconds * _ticksPerSecond;
        double best = divisor <= coarsest ? divisor : 1;
        foreach (long rate in UsualRates)
        {
            double period = (double)_ticksPerSecond / rate;
            if (period > Math.Max(best, FewestTicks) && period <= coarsest && Fits(rate))
            {
                return Found(period, "the slowest usual rate on whose samples all edges looked at lie");
            }
        }

        return best > 1 ? Found(best, "the greatest common divisor of the times of all edges looked at") : (1, null);
    }

    private (double Ticks, string Sentence) Found(double period, string how)
    {
        double rate = _ticksPerSecond / period;
        string shown = rate >= 1 && Math.Abs(rate - Math.Round(rate)) < 1e-6 * rate ? Rates.Text((long)Math.Round(rate)) : $"{period:0.###} units of its clock";
        return (period, $"The clock of the file is finer than its samples; the sampling period is taken as that of {shown}: {how}.");
    }
}
