using System.Runtime.InteropServices;

namespace DmxProbe.Analysis.Locate;

/// <summary>Scores predictions that are predictable throughout, from their steps alone.</summary>
internal sealed class StepScorer
{
    /// <summary>The light model is never better than this share of the standard deviation.</summary>
    public const double ModelError = 0.05;

    /// <summary>Below this share left beside the spill, the light lies within the spill and explains nothing of its own.</summary>
    public const double SmallestRest = 0.002;

    private readonly ChannelEvidence[] _channels;
    private readonly double[] _ratios;
    private readonly double[] _dots;
    private double[] _raised = [];

    public StepScorer(ChannelEvidence[] channels)
    {
        _channels = channels;
        _ratios = new double[SpillStrength.All.Length * ChannelEvidence.Delays];
        _dots = new double[channels.Max(channel => channel.Stride)];
    }

    /// <summary>Scores one exponent and lag over all delays and spill strengths.</summary>
    public Score Evaluate(PowerSteps steps, double gamma, Smoothing smoothing)
    {
        Array.Fill(_ratios, 1.0);
        if (_raised.Length < steps.Count)
        {
            _raised = new double[steps.Count * 2];
        }

        for (int c = 0; c < _channels.Length; c++)
        {
            AddChannel(_channels[c], steps, c, gamma, smoothing);
        }

        return Best(gamma, smoothing.Tau);
    }

    private void AddChannel(ChannelEvidence channel, PowerSteps steps, int c, double gamma, Smoothing smoothing)
    {
        Span<double> raised = _raised.AsSpan(0, steps.Count);
        double squares = 0;
        Span<double> dots = _dots.AsSpan(0, channel.Stride);
        dots.Clear();
        if (steps.Raise(c, gamma, raised))
        {
            squares = smoothing.CentredSquares(steps.At, raised, channel.Samples);
            ref double sum = ref MemoryMarshal.GetReference(dots);
            double[] rows = channel.Rows(smoothing);
            ReadOnlySpan<int> at = steps.At;
            for (int i = 1; i < raised.Length; i++)
            {
                Lanes.AddRow(ref sum, ref rows[at[i] * channel.Stride], raised[i] - raised[i - 1], channel.Stride);
            }
        }

        Span<double> along = stackalloc double[ChannelEvidence.Delays];
        for (int s = 0; s < channel.Scales.Length; s++)
        {
            SpillWeights weights = channel.Scales[s];
            double rest = squares;
            dots[..ChannelEvidence.Delays].CopyTo(along);
            for (int k = 0; k < channel.Spill.Dimension; k++)
            {
                double onSpill = dots[ChannelEvidence.Delays + k];
                rest -= weights.Reduction[k] * onSpill * onSpill;
                Lanes.AddRow(ref along[0], ref weights.ReducedTrace[k * ChannelEvidence.Delays], -onSpill, ChannelEvidence.Delays);
            }

            bool explains = squares > 1e-9 && rest >= SmallestRest * squares;
            Span<double> ratios = _ratios.AsSpan(s * ChannelEvidence.Delays, ChannelEvidence.Delays);
            for (int d = 0; d < ratios.Length; d++)
            {
                double positive = Math.Max(along[d], 0);
                double left = weights.Total[d] - (explains ? positive * positive / rest : 0);
                ratios[d] *= (Math.Max(left, 0) / channel.Total[d]) + (ModelError * ModelError);
            }
        }
    }

    private Score Best(double gamma, double tau)
    {
        Score best = Score.None;
        for (int s = 0; s < SpillStrength.All.Length; s++)
        {
            ReadOnlySpan<double> ratios = _ratios.AsSpan(s * ChannelEvidence.Delays, ChannelEvidence.Delays);
            int delay = 0;
            for (int d = 1; d < ratios.Length; d++)
            {
                delay = ratios[d] < ratios[delay] ? d : delay;
            }

            double likelihood = (-0.5 * _channels[0].Samples * Math.Log(ratios[delay])) + SpillStrength.All[s].LogPrior;
            foreach (ChannelEvidence channel in _channels)
            {
                likelihood += channel.Scales[s].LogDeterminant;
            }

            if (likelihood > best.LogLikelihood)
            {
                best = new Score(likelihood, gamma, tau, delay, s);
            }
        }

        return best;
    }
}
