using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Benchmarks.Ask;

namespace DmxProbe.Benchmarks;

/// <summary>
/// The printed confidence against the truth in ten bins, narrower where answers lie. Nothing captured explains some of the
/// lights: there every confidence is wrong.
/// </summary>
public sealed class LocateCalibration
{
    /// <summary>From this many rigs on a bin counts.</summary>
    public const int Fewest = 100;

    /// <summary>Largest distance of the mean confidence from the share of right ones, percentage points.</summary>
    public const double Goal = 2;

    private static readonly double[] Edges = [0, 0.1, 0.25, 0.4, 0.55, 0.7, 0.85, 0.95, 0.99, LocateRule.HighestPrinted, 1.01];
    private readonly double[] _rigs = new double[Edges.Length - 1];
    private readonly double[] _right = new double[Edges.Length - 1];
    private readonly double[] _printed = new double[Edges.Length - 1];

    /// <summary>Counts a rig whose answer prints a confidence.</summary>
    public void Add(LocateOutcome outcome)
    {
        if (outcome.Result.Best is not null)
        {
            Add(outcome.Result.Confidence, outcome.TopIsRight, 1);
        }
    }

    /// <summary>Counts a confidence.</summary>
    /// <param name="printed">The confidence, 0 to 1.</param>
    /// <param name="right">Whether the best guess was right.</param>
    /// <param name="weight">How many rigs it stands for.</param>
    public void Add(double printed, bool right, double weight)
    {
        int bin = Array.FindLastIndex(Edges, edge => printed >= edge);
        _rigs[bin] += weight;
        _right[bin] += right ? weight : 0;
        _printed[bin] += weight * printed;
    }

    /// <summary>Writes a Markdown table.</summary>
    public void Write(TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("| printed confidence | rigs | claimed, mean % | truth: right, % | truth, 95 % interval | truth less claimed, points |");
        output.WriteLine("|---|---|---|---|---|---|");
        for (int bin = 0; bin < _rigs.Length; bin++)
        {
            string range = bin == _rigs.Length - 1 ? "at the cap, 0.995" : string.Create(CultureInfo.InvariantCulture, $"{Edges[bin]:0.###} to {Edges[bin + 1]:0.###}");
            double rigs = Math.Max(_rigs[bin], 1e-9);
            double printed = 100 * _printed[bin] / rigs;
            double right = 100 * _right[bin] / rigs;
            (double low, double high) = Interval.Wilson(_right[bin], rigs);
            string verdict = _rigs[bin] < Fewest ? " (too few)" : Math.Abs(right - printed) > Goal ? " (over the goal)" : "";
            output.WriteLine(_rigs[bin] < 0.5
                ? $"| {range} | 0 | | | | |"
                : string.Create(CultureInfo.InvariantCulture, $"| {range} | {_rigs[bin]:0} | {printed:0.0} | {right:0.0} | {100 * low:0.0} to {100 * high:0.0} | {right - printed:+0.0;-0.0;0.0}{verdict} |"));
        }
    }
}
