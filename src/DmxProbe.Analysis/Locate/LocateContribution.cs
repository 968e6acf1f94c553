using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>What one piece of evidence contributed to an answer.</summary>
/// <param name="Evidence">trace, look, taps, rdm or answer.</param>
/// <param name="Text">What it is.</param>
/// <param name="Time">When; null where it has no one moment.</param>
/// <param name="Nats">How strongly it speaks for the best over <paramref name="Against"/>: what their log-ratio would lose without it.</param>
/// <param name="Against">What the best is compared with.</param>
public sealed record LocateContribution(string Evidence, string Text, Timestamp? Time, double Nats, LocateCandidate Against);
