namespace DmxProbe.Testing.Line;

/// <summary>What was really sent: the truth behind a synthesised packet. Times in nanoseconds of the signal.</summary>
/// <param name="Octets">START code and slots; of a discovery reply its octets.</param>
/// <param name="BreakStart">Start of the break, jitter included; of a discovery reply the first start bit.</param>
/// <param name="BreakEnd">End of the break.</param>
/// <param name="FirstStart">Start bit of the START code.</param>
/// <param name="End">End of the last stop bit.</param>
/// <param name="LostStops">Places whose stop bits were lost.</param>
public sealed record SentLinePacket(
    byte[] Octets, double BreakStart, double BreakEnd, double FirstStart, double End, IReadOnlyList<int> LostStops);
