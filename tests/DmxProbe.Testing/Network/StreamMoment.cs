namespace DmxProbe.Testing.Network;

/// <summary>A moment at which a universe is sent.</summary>
/// <param name="Time">When, in ns.</param>
/// <param name="Reason">Why.</param>
/// <param name="Alternate">The packet of another START code that is due; null for levels.</param>
/// <param name="Slots">The levels; valid until the next moment.</param>
internal readonly record struct StreamMoment(long Time, SendReason Reason, AlternatePacket? Alternate, byte[] Slots);
