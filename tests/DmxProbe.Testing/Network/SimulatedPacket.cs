using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>A packet as the capture saw it.</summary>
/// <param name="Time">When.</param>
/// <param name="Sent">The packet as it was sent; its frame is the captured one.</param>
/// <param name="IsCopy">True for a copy that the network made.</param>
public sealed record SimulatedPacket(Timestamp Time, SentPacket Sent, bool IsCopy);
