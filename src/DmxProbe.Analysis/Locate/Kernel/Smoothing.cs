namespace DmxProbe.Analysis.Locate;

/// <summary>
/// The lag of a light: s(t) = s(t-1) + (1-a)(x(t) - s(t-1)) with a = exp(-1/tau), starting at rest on the first value.
/// </summary>
internal sealed class Smoothing
{
    private readonly double[] _powers;

    public Smoothing(double tau, int samples)
    {
        Tau = tau;
        A = Math.Exp(-1 / tau);
        _powers = new double[samples + 1];
        _powers[0] = 1;
        for (int i = 1; i <= samples; i++)
        {
            _powers[i] = _powers[i - 1] < 1e-200 ? 0 : _powers[i - 1] * A;
        }
    }

    public double Tau { get; }

    public double A { get; }

    /// <summary>Smooths in place.</summary>
    public void Apply(Span<double> values)
    {
        double state = values.Length > 0 ? values[0] : 0;
        foreach (ref double value in values)
        {
            state += (1 - A) * (value - state);
            value = state;
        }
    }

    /// <summary>Centred sum of squares of the smoothed steps, in closed form for each step.</summary>
    public double CentredSquares(ReadOnlySpan<int> at, ReadOnlySpan<double> values, int samples)
    {
        double sum = 0;
        double squares = 0;
        double state = values[0];
        double one = A / (1 - A);
        double two = A * A / (1 - (A * A));
        for (int i = 0; i < at.Length; i++)
        {
            int length = (i + 1 < at.Length ? at[i + 1] : samples) - at[i];
            double value = values[i];
            double gap = state - value;
            double power = _powers[length];
            double first = gap * one * (1 - power);
            sum += (length * value) + first;
            squares += (length * value * value) + (2 * value * first) + (gap * gap * two * (1 - (power * power)));
            state = value + (gap * power);
        }

        return squares - (sum * sum / samples);
    }
}
