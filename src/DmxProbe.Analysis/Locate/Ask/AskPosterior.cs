namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// The one posterior: what all evidence together says about every place and about "none of these". How often this person's
/// eye errs is not told but inferred along with it: six error rates run side by side.
/// </summary>
public sealed class AskPosterior
{
    /// <summary>The most that one trace, tap series or report may count against a place, nats: each can be of another light.</summary>
    private const double MostNats = 60;

    private static readonly double[] Errors = [0.01, 0.03, 0.05, 0.1, 0.17, 0.25];
    private static readonly double[] ErrorPrior = [0.15, 0.25, 0.25, 0.2, 0.1, 0.05];

    private readonly AskSpace _space;
    private readonly double[] _prior;
    private readonly List<AskEvidence> _evidence = [];
    private readonly double[][] _weights = [.. Errors.Select(_ => Array.Empty<double>())];
    private readonly double[] _probability;

    /// <summary>Begins with a prior.</summary>
    /// <param name="space">The places.</param>
    /// <param name="prior">Of every place and of "none of these": <see cref="AskPrior.Of"/>.</param>
    public AskPosterior(AskSpace space, double[] prior)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(prior);
        ArgumentOutOfRangeException.ThrowIfNotEqual(prior.Length, space.Count + 1, nameof(prior));
        _space = space;
        _prior = prior;
        _probability = new double[prior.Length];
        Restart();
    }

    /// <summary>The places.</summary>
    public AskSpace Space => _space;

    /// <summary>The evidence, oldest first.</summary>
    public IReadOnlyList<AskEvidence> Evidence => _evidence;

    /// <summary>Probability of every place, the last of "none of these"; sums to 1.</summary>
    public IReadOnlyList<double> Probability => _probability;

    internal ReadOnlySpan<double> Span => _probability;

    /// <summary>The most likely place, or "none of these".</summary>
    public int Best
    {
        get
        {
            int best = 0;
            for (int i = 1; i < _probability.Length; i++)
            {
                best = _probability[i] > _probability[best] ? i : best;
            }

            return best;
        }
    }

    /// <summary>The error rate of the eye as inferred, 0.01 to 0.25.</summary>
    public double EyeError
    {
        get
        {
            double sum = 0;
            double all = 0;
            for (int e = 0; e < Errors.Length; e++)
            {
                double mass = _weights[e].Sum();
                sum += mass * Errors[e];
                all += mass;
            }

            return all > 0 ? sum / all : 0.05;
        }
    }

    /// <summary>Takes in a piece of evidence.</summary>
    public void Add(AskEvidence evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        _evidence.Add(evidence);
        Weigh(evidence);
        Normalise();
    }

    /// <summary>Takes the latest piece back.</summary>
    /// <returns>It, or null where there is none.</returns>
    public AskEvidence? TakeBack()
    {
        if (_evidence.Count == 0)
        {
            return null;
        }

        AskEvidence last = _evidence[^1];
        _evidence.RemoveAt(_evidence.Count - 1);
        Restart();
        _evidence.ForEach(Weigh);
        Normalise();
        return last;
    }

    /// <summary>
    /// How strongly a piece speaks for one place over another, nats: what their ratio would lose without it.
    /// </summary>
    public double Contribution(AskEvidence piece, int place, int other)
    {
        ArgumentNullException.ThrowIfNull(piece);
        return Ratio(place, other, null) - Ratio(place, other, piece);
    }

    /// <summary>Log-likelihood of a place by everything but some kinds of evidence, nats.</summary>
    internal double LogLikelihood(int place, AskEvidenceKind[] without)
    {
        double nats = 0;
        double[] eye = new double[Errors.Length];
        foreach (AskEvidence piece in _evidence.Where(each => !without.Contains(each.Kind)))
        {
            Take(piece, place, ref nats, eye);
        }

        return nats + Mixed(eye);
    }

    private double Ratio(int place, int other, AskEvidence? without)
    {
        double ratio = 0;
        foreach ((int at, int sign) in new[] { (place, 1), (other, -1) })
        {
            double nats = 0;
            double[] eye = new double[Errors.Length];
            foreach (AskEvidence piece in _evidence.Where(each => each != without))
            {
                Take(piece, at, ref nats, eye);
            }

            ratio += sign * (nats + Mixed(eye));
        }

        return ratio;
    }

    private static void Take(AskEvidence piece, int at, ref double nats, double[] eye)
    {
        if (piece.Nats is not null)
        {
            nats += Math.Max(piece.Nats[at] - piece.Top, -MostNats);
            return;
        }

        for (int e = 0; e < eye.Length; e++)
        {
            eye[e] += Math.Log(((1 - Errors[e]) * piece.Right![at]) + (Errors[e] * piece.Wrong![at]) + 1e-12);
        }
    }

    private static double Mixed(double[] eye)
    {
        double top = eye.Max();
        double sum = 0;
        for (int e = 0; e < eye.Length; e++)
        {
            sum += ErrorPrior[e] * Math.Exp(eye[e] - top);
        }

        return top + Math.Log(sum);
    }

    private void Restart()
    {
        for (int e = 0; e < Errors.Length; e++)
        {
            _weights[e] = [.. _prior.Select(each => each * ErrorPrior[e])];
        }

        Normalise();
    }

    private void Weigh(AskEvidence piece)
    {
        if (piece.Nats is double[] nats)
        {
            double top = piece.Top;
            for (int i = 0; i < nats.Length; i++)
            {
                double factor = Math.Exp(Math.Max(nats[i] - top, -MostNats));
                foreach (double[] weights in _weights)
                {
                    weights[i] *= factor;
                }
            }

            return;
        }

        for (int e = 0; e < Errors.Length; e++)
        {
            double[] weights = _weights[e];
            double right = 1 - Errors[e];
            for (int i = 0; i < weights.Length; i++)
            {
                weights[i] *= (right * piece.Right![i]) + (Errors[e] * piece.Wrong![i]) + 1e-12;
            }
        }
    }

    /// <summary>One scale for all error rates, so that they stay comparable.</summary>
    private void Normalise()
    {
        Array.Clear(_probability);
        double sum = 0;
        foreach (double[] weights in _weights)
        {
            for (int i = 0; i < weights.Length; i++)
            {
                _probability[i] += weights[i];
                sum += weights[i];
            }
        }

        double scale = 1 / Math.Max(sum, 1e-300);
        for (int i = 0; i < _probability.Length; i++)
        {
            _probability[i] *= scale;
        }

        foreach (double[] weights in _weights)
        {
            for (int i = 0; i < weights.Length; i++)
            {
                weights[i] *= scale;
            }
        }
    }
}
