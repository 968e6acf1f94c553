namespace DmxProbe.Testing.Network;

/// <summary>A sender that is started again.</summary>
/// <param name="At">When it falls silent, ns.</param>
/// <param name="Silence">How long, ns.</param>
/// <param name="Sequence">Sequence number of its next packet.</param>
public sealed record SenderRestart(long At, long Silence, int Sequence);
