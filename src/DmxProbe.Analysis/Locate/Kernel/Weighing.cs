namespace DmxProbe.Analysis.Locate;

/// <summary>
/// The inner products over the samples that count for one prediction: those where it is predictable. Leaving samples
/// out makes the spill vectors oblique; the products stay exact (Woodbury), at the cost of a small matrix for each mask.
/// </summary>
internal sealed class Weighing
{
    private readonly ChannelEvidence[] _channels;
    private readonly ChannelWeighing[] _weighed;
    private readonly List<(int From, int To)> _kept = [];

    public Weighing(ChannelEvidence[] channels, Prediction prediction)
    {
        _channels = channels;
        Samples = prediction.Samples;
        Count = prediction.Weighed;
        int from = 0;
        foreach ((int maskFrom, int maskTo) in prediction.Masked)
        {
            if (maskFrom > from)
            {
                _kept.Add((from, maskFrom));
            }

            from = maskTo;
        }

        if (from < Samples)
        {
            _kept.Add((from, Samples));
        }

        _weighed = [.. channels.Select(channel => new ChannelWeighing(channel, _kept, prediction.Masked, Count))];
    }

    public int Samples { get; }

    /// <summary>Samples that count.</summary>
    public int Count { get; }

    /// <summary>The spans that count.</summary>
    public IReadOnlyList<(int From, int To)> Kept => _kept;

    public ChannelWeighing this[int channel] => _weighed[channel];

    /// <summary>Takes the mean over the samples that count off, and sets the others to 0.</summary>
    public void Take(Span<double> values)
    {
        double sum = 0;
        foreach ((int from, int to) in _kept)
        {
            foreach (double value in values[from..to])
            {
                sum += value;
            }
        }

        double mean = sum / Math.Max(Count, 1);
        int end = 0;
        foreach ((int from, int to) in _kept)
        {
            values[end..from].Clear();
            foreach (ref double value in values[from..to])
            {
                value -= mean;
            }

            end = to;
        }

        values[end..].Clear();
    }

    /// <summary>Scores a lagging light, one series for each channel, already taken by <see cref="Take"/>.</summary>
    /// <param name="light">The series; a channel that is dark is all zero.</param>
    /// <param name="gamma">Noted in the score.</param>
    /// <param name="tau">Noted in the score.</param>
    /// <param name="scales">How many spill strengths to try, from none on.</param>
    public Score Evaluate(double[][] light, double gamma, double tau, int scales)
    {
        Span<double> ratios = stackalloc double[scales * ChannelEvidence.Delays];
        ratios.Fill(1);
        for (int c = 0; c < _channels.Length; c++)
        {
            _weighed[c].AddRatios(light[c], scales, ratios);
        }

        Score best = Score.None;
        for (int s = 0; s < scales; s++)
        {
            ReadOnlySpan<double> row = ratios.Slice(s * ChannelEvidence.Delays, ChannelEvidence.Delays);
            int delay = 0;
            for (int d = 1; d < row.Length; d++)
            {
                delay = row[d] < row[delay] ? d : delay;
            }

            double likelihood = (-0.5 * Count * Math.Log(row[delay])) + SpillStrength.All[s].LogPrior;
            foreach (ChannelWeighing weighed in _weighed)
            {
                likelihood += weighed.LogDeterminant(s);
            }

            if (likelihood > best.LogLikelihood)
            {
                best = new Score(likelihood, gamma, tau, delay, s);
            }
        }

        return best;
    }
}
