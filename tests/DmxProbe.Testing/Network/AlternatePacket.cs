namespace DmxProbe.Testing.Network;

/// <summary>A packet of a START code other than 0.</summary>
/// <param name="StartCode">The code.</param>
/// <param name="Slots">Its slots.</param>
public sealed record AlternatePacket(int StartCode, byte[] Slots);
