using System.Runtime.InteropServices;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Scores predictions with gaps, from their steps, without spill and with the lag only nearly right at the edges of a
/// gap: good enough to choose those that are worth the exact product.
/// </summary>
internal sealed class SpanScorer(ChannelEvidence[] channels)
{
    private readonly double[] _ratios = new double[ChannelEvidence.Delays];
    private readonly double[] _total = new double[ChannelEvidence.Delays * channels.Length];
    private readonly double[] _dots = new double[ChannelEvidence.Delays];
    private double[] _raised = [];
    private int[] _at = [];
    private double[] _value = [];
    private bool[] _kept = [];

    /// <summary>The best of several exponents.</summary>
    public Score Evaluate(Prediction prediction, PowerSteps steps, double[] gammas, Smoothing smoothing)
    {
        Totals(prediction);
        Score best = Score.None;
        foreach (double gamma in gammas)
        {
            Array.Fill(_ratios, 1.0);
            for (int c = 0; c < channels.Length; c++)
            {
                AddChannel(prediction, steps, c, gamma, smoothing);
            }

            int delay = 0;
            for (int d = 1; d < _ratios.Length; d++)
            {
                delay = _ratios[d] < _ratios[delay] ? d : delay;
            }

            double likelihood = -0.5 * prediction.Weighed * Math.Log(_ratios[delay]);
            if (likelihood > best.LogLikelihood)
            {
                best = new Score(likelihood, gamma, smoothing.Tau, delay, 0);
            }
        }

        return best;
    }

    private void Totals(Prediction prediction)
    {
        for (int c = 0; c < channels.Length; c++)
        {
            for (int d = 0; d < ChannelEvidence.Delays; d++)
            {
                (double sum, double squares) = channels[c].Over(d, 0, prediction.Samples);
                foreach ((int from, int to) in prediction.Masked)
                {
                    (double partSum, double partSquares) = channels[c].Over(d, from, to);
                    sum -= partSum;
                    squares -= partSquares;
                }

                _total[(c * ChannelEvidence.Delays) + d] = Math.Max(squares - (sum * sum / prediction.Weighed), 1e-12);
            }
        }
    }

    private void AddChannel(Prediction prediction, PowerSteps steps, int c, double gamma, Smoothing smoothing)
    {
        if (_raised.Length < steps.Count)
        {
            _raised = new double[steps.Count * 2];
        }

        double squares = 0;
        Array.Clear(_dots);
        if (steps.Raise(c, gamma, _raised.AsSpan(0, steps.Count)))
        {
            int pieces = Cut(prediction, out squares, out double whole);
            if (whole > 1e-9)
            {
                // The lag takes as much off the squares with gaps as it takes off them without.
                squares *= Math.Min(1, smoothing.CentredSquares(steps.At, _raised.AsSpan(0, steps.Count), prediction.Samples) / whole);
            }

            double[] rows = channels[c].SpanRows(smoothing);
            ref double sum = ref MemoryMarshal.GetArrayDataReference(_dots);
            double last = 0;
            for (int i = 0; i < pieces; i++)
            {
                double value = _kept[i] ? _value[i] : 0;
                if (value != last)
                {
                    Lanes.AddRow(ref sum, ref rows[_at[i] * ChannelEvidence.Delays], value - last, ChannelEvidence.Delays);
                    last = value;
                }
            }
        }

        for (int d = 0; d < _ratios.Length; d++)
        {
            double total = _total[(c * ChannelEvidence.Delays) + d];
            double positive = Math.Max(_dots[d], 0);
            double left = squares > 1e-9 ? Math.Max(total - (positive * positive / squares), 0) : total;
            _ratios[d] *= (left / total) + (StepScorer.ModelError * StepScorer.ModelError);
        }
    }

    /// <summary>
    /// Cuts the steps at the gaps and takes the mean of what counts off; returns the number of pieces, the centred sum of
    /// squares of what counts, and that of everything.
    /// </summary>
    private int Cut(Prediction prediction, out double squares, out double whole)
    {
        double wholeSum = 0;
        whole = 0;
        int most = prediction.Count + (2 * prediction.Masked.Count) + 2;
        if (_at.Length < most)
        {
            _at = new int[most * 2];
            _value = new double[most * 2];
            _kept = new bool[most * 2];
        }

        int pieces = 0;
        int mask = 0;
        double sum = 0;
        squares = 0;
        for (int i = 0; i < prediction.Count; i++)
        {
            int at = prediction.At[i];
            int end = i + 1 < prediction.Count ? prediction.At[i + 1] : prediction.Samples;
            wholeSum += (end - at) * _raised[i];
            whole += (end - at) * _raised[i] * _raised[i];
            while (at < end)
            {
                while (mask < prediction.Masked.Count && prediction.Masked[mask].To <= at)
                {
                    mask++;
                }

                bool kept = mask >= prediction.Masked.Count || prediction.Masked[mask].From > at;
                int to = mask >= prediction.Masked.Count ? end
                    : Math.Min(end, kept ? prediction.Masked[mask].From : prediction.Masked[mask].To);
                (_at[pieces], _value[pieces], _kept[pieces]) = (at, _raised[i], kept);
                pieces++;
                if (kept)
                {
                    sum += (to - at) * _raised[i];
                    squares += (to - at) * _raised[i] * _raised[i];
                }

                at = to;
            }
        }

        whole -= wholeSum * wholeSum / prediction.Samples;
        double mean = sum / prediction.Weighed;
        squares -= sum * mean;
        for (int i = 0; i < pieces; i++)
        {
            _value[i] -= mean;
        }

        return pieces;
    }
}
