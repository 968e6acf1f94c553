namespace DmxProbe.Testing.Network;

/// <summary>From a moment on, another sACN priority.</summary>
/// <param name="At">When, in ns since the start.</param>
/// <param name="Priority">The new priority.</param>
public sealed record PriorityChange(long At, int Priority);
