namespace DmxProbe.Analysis.Locate;

/// <summary>The best setting of a hypothesis and its log-likelihood against "no own light", nats.</summary>
internal readonly record struct Score(double LogLikelihood, double Gamma, double Tau, int Delay, int Spill)
{
    public static Score None => new(double.NegativeInfinity, 1, 2.5, 0, 0);
}
