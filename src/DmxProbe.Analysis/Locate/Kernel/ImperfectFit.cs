namespace DmxProbe.Analysis.Locate;

/// <summary>What <see cref="ImperfectLight"/> found for one channel.</summary>
/// <param name="LogLikelihood">Against "no own light", without the determinant of the spill, nats.</param>
/// <param name="Light">The light with its corrections, in units of the trace.</param>
internal sealed record ImperfectFit(double LogLikelihood, double[] Light);
