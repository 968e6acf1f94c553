namespace DmxProbe.Analysis.Locate;

/// <summary>What a trace says about one hypothesis.</summary>
/// <param name="Hypothesis">The hypothesis.</param>
/// <param name="Nats">Log-likelihood against "no own light", nats, tempered for correlated readings.</param>
public readonly record struct HypothesisNats(Hypothesis Hypothesis, double Nats);
