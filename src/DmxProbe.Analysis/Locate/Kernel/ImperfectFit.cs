namespace DmxProbe.Analysis.Locate;

/// <summary>What <see cref="ImperfectLight"/> found for one channel.</summary>
/// <param name="LogLikelihood">Against "no own light", without the determinant of the spill, nats.</param>
/// <param name="Perfect">The same for a light model that is exactly right.</param>
/// <param name="Light">The light with its corrections, in units of the trace.</param>
internal sealed record ImperfectFit(double LogLikelihood, double Perfect, double[] Light);
