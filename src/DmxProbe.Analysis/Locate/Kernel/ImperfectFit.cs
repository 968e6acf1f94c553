namespace DmxProbe.Analysis.Locate;

/// <summary>What <see cref="ImperfectLight"/> found for one channel and strength of spill.</summary>
/// <param name="LogLikelihood">Against "no own light", nats.</param>
/// <param name="Perfect">The same for a light model that is exactly right.</param>
/// <param name="Gain">Of the light itself.</param>
/// <param name="Coefficients">Of the columns.</param>
internal readonly record struct ImperfectFit(double LogLikelihood, double Perfect, double Gain, double[] Coefficients);
