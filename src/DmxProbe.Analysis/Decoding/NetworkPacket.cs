using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>A packet without levels that tells about the network. A view over the record, valid until the sink returns.</summary>
public readonly ref struct NetworkPacket
{
    /// <summary>What it holds.</summary>
    public required NetworkPacketKind Kind { get; init; }

    /// <summary>When it arrived.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>Number of its record.</summary>
    public required long Record { get; init; }

    /// <summary>Interface it was captured on.</summary>
    public required int InterfaceId { get; init; }

    /// <summary>VLAN of the innermost tag, 0 to 4095; -1 without a tag.</summary>
    public int VlanId { get; init; }

    /// <summary>Sender; default for ARP.</summary>
    public IpAddress Source { get; init; }

    /// <summary>Receiver or group; default for ARP.</summary>
    public IpAddress Destination { get; init; }

    /// <summary>Identification that the fragments of a datagram share.</summary>
    public uint Identification { get; init; }

    /// <summary>Where in its datagram a fragment begins, in octets.</summary>
    public int FragmentOffset { get; init; }

    /// <summary>Whether further fragments follow.</summary>
    public bool MoreFragments { get; init; }

    /// <summary>Octets of the IP payload as stated, also where the snap length cut them.</summary>
    public int StatedLength { get; init; }

    /// <summary>For a first fragment: whether it is from or to a lighting port.</summary>
    public bool IsLighting { get; init; }

    /// <summary>What follows the EtherType (ARP) or the IP header, as far as captured.</summary>
    public ReadOnlySpan<byte> Payload { get; init; }
}
