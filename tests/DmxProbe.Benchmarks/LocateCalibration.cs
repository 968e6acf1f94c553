using System.Globalization;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Benchmarks;

/// <summary>
/// The printed confidence against the truth in ten bins, narrower where answers lie. Nothing captured explains some of the
/// lights: there every confidence is wrong.
/// </summary>
public sealed class LocateCalibration
{
    /// <summary>From this many rigs on a bin counts.</summary>
    public const int Fewest = 100;

    private static readonly double[] Edges = [0, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99, LocateRule.HighestPrinted, 1.01];
    private readonly int[] _rigs = new int[Edges.Length - 1];
    private readonly int[] _right = new int[Edges.Length - 1];
    private readonly double[] _printed = new double[Edges.Length - 1];

    /// <summary>Counts a rig whose answer prints a confidence.</summary>
    public void Add(LocateOutcome outcome)
    {
        if (outcome.Result.Best is null)
        {
            return;
        }

        double printed = outcome.Result.Confidence;
        int bin = Array.FindLastIndex(Edges, edge => printed >= edge);
        _rigs[bin]++;
        _right[bin] += outcome.TopIsRight ? 1 : 0;
        _printed[bin] += printed;
    }

    /// <summary>Writes a Markdown table.</summary>
    public void Write(TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("| printed confidence | rigs | printed, mean % | right, % | apart, points |");
        output.WriteLine("|---|---|---|---|---|");
        for (int bin = 0; bin < _rigs.Length; bin++)
        {
            string range = bin == _rigs.Length - 1 ? "at the cap" : string.Create(CultureInfo.InvariantCulture, $"{Edges[bin]:0.###} to {Edges[bin + 1]:0.###}");
            double printed = 100 * _printed[bin] / Math.Max(1, _rigs[bin]);
            double right = 100.0 * _right[bin] / Math.Max(1, _rigs[bin]);
            output.WriteLine(_rigs[bin] == 0
                ? $"| {range} | 0 | | | |"
                : string.Create(CultureInfo.InvariantCulture, $"| {range} | {_rigs[bin]} | {printed:0.0} | {right:0.0} | {right - printed:+0.0;-0.0}{(_rigs[bin] < Fewest ? " (too few)" : "")} |"));
        }
    }
}
