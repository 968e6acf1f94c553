namespace DmxProbe.Capture.Tests.Files;

/// <summary>What libpcap says of one packet.</summary>
internal sealed record LibpcapPacket(long UnixNanoseconds, int OriginalLength, string Data);
