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

    private static readonly double[] Edges = [0, 0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.985, 1.01];
    private readonly SortedDictionary<LocateClaim, (double Rigs, double Right, double Printed)> _answers = [];
    private readonly double[] _rigs = new double[Edges.Length - 1];
    private readonly double[] _right = new double[Edges.Length - 1];
    private readonly double[] _printed = new double[Edges.Length - 1];

    /// <summary>Counts a rig whose answer prints a confidence.</summary>
    public void Add(LocateOutcome outcome)
    {
        if (outcome.Result.Best is not null)
        {
            Add(outcome.Result.Claim, outcome.Result.Confidence, outcome.TopIsRight, 1);
        }
    }

    /// <summary>Counts a confidence.</summary>
    /// <param name="claim">The answer.</param>
    /// <param name="printed">The confidence, 0 to 1.</param>
    /// <param name="right">Whether the best guess was right.</param>
    /// <param name="weight">How many rigs it stands for.</param>
    public void Add(LocateClaim claim, double printed, bool right, double weight)
    {
        (double Rigs, double Right, double Printed) before = _answers.GetValueOrDefault(claim);
        _answers[claim] = (before.Rigs + weight, before.Right + (right ? weight : 0), before.Printed + (weight * printed));
        int bin = Array.FindLastIndex(Edges, edge => printed >= edge);
        _rigs[bin] += weight;
        _right[bin] += right ? weight : 0;
        _printed[bin] += weight * printed;
    }

    /// <summary>Writes two Markdown tables: the ten bins, and the kinds of answers.</summary>
    public void Write(TextWriter output)
    {
        Heading(output, "printed confidence");
        for (int bin = 0; bin < _rigs.Length; bin++)
        {
            string range = bin == _rigs.Length - 1 ? "0.985 to the cap, 0.995" : string.Create(CultureInfo.InvariantCulture, $"{Edges[bin]:0.###} to {Edges[bin + 1]:0.###}");
            Row(output, range, _rigs[bin], _right[bin], _printed[bin]);
        }

        Heading(output, "answer");
        foreach ((LocateClaim claim, (double rigs, double right, double printed)) in _answers)
        {
            Row(output, claim.ToString(), rigs, right, printed);
        }
    }

    private static void Heading(TextWriter output, string first)
    {
        output.WriteLine();
        output.WriteLine($"| {first} | rigs | claimed, mean % | truth: right, % | truth, 95 % interval | truth less claimed, points |");
        output.WriteLine("|---|---|---|---|---|---|");
    }

    private static void Row(TextWriter output, string name, double rigs, double right, double printed)
    {
        if (rigs < 0.5)
        {
            output.WriteLine($"| {name} | 0 | | | | |");
            return;
        }

        double claimed = 100 * printed / rigs;
        double truth = 100 * right / rigs;
        (double low, double high) = Interval.Wilson(right, rigs);
        string verdict = rigs < Fewest ? " (too few)" : Math.Abs(truth - claimed) > Goal ? " (over the goal)" : "";
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| {name} | {rigs:0} | {claimed:0.0} | {truth:0.0} | {100 * low:0.0} to {100 * high:0.0} | {truth - claimed:+0.0;-0.0;0.0}{verdict} |"));
    }
}
