using DmxProbe.Protocols.Net;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Where a sender sends a universe to, and by which ports.</summary>
/// <param name="Destination">Receiver, group or broadcast address.</param>
/// <param name="SourcePort">UDP port it sends from.</param>
/// <param name="DestinationPort">UDP port it sends to.</param>
/// <param name="IsBroadcast">True where every host of the network gets it.</param>
public readonly record struct SendingPath(IpAddress Destination, int SourcePort, int DestinationPort, bool IsBroadcast)
{
    /// <summary>True where it goes to one receiver.</summary>
    public bool IsUnicast => !IsBroadcast && !Destination.IsMulticast;
}
