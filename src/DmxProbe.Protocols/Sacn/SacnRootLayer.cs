using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>
/// What all sACN packets share: root layer and framing vector (E1.31-2018 sections 5 and 6). Tells which view to make.
/// </summary>
public readonly ref struct SacnRootLayer
{
    private readonly ReadOnlySpan<byte> _data;

    private SacnRootLayer(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Preamble size; 0x0010, or receivers discard the packet (section 5.1).</summary>
    public ushort PreambleSize => BinaryPrimitives.ReadUInt16BigEndian(_data[AcnPacket.PreambleSizeAt..]);

    /// <summary>Post-amble size; 0, or receivers discard the packet (section 5.2).</summary>
    public ushort PostambleSize => BinaryPrimitives.ReadUInt16BigEndian(_data[AcnPacket.PostambleSizeAt..]);

    /// <summary>Whether preamble and post-amble sizes are the only ones allowed (sections 5.1, 5.2).</summary>
    public bool IsPreambleValid => AcnPacket.IsPreambleValid(_data);

    /// <summary>Root vector (section 5.5).</summary>
    public uint RootVector => BinaryPrimitives.ReadUInt32BigEndian(_data[AcnPacket.RootVectorAt..]);

    /// <summary>Framing vector (sections 6.2.1, 6.3.1, 6.4.1); means nothing without the root vector.</summary>
    public uint FramingVector => BinaryPrimitives.ReadUInt32BigEndian(_data[AcnPacket.FramingVectorAt..]);

    /// <summary>Who sent it (section 5.6).</summary>
    public Cid Cid => Sacn.Cid.Read(_data[AcnPacket.CidAt..]);

    /// <summary>What the two vectors say the packet is.</summary>
    public SacnPacketType PacketType => (RootVector, FramingVector) switch
    {
        (SacnVector.RootData, SacnVector.FramingData) => SacnPacketType.Data,
        (SacnVector.RootExtended, SacnVector.FramingSynchronization) => SacnPacketType.Synchronization,
        (SacnVector.RootExtended, SacnVector.FramingDiscovery) => SacnPacketType.UniverseDiscovery,
        (SacnVector.RootDraft, SacnVector.FramingData) => SacnPacketType.Draft,
        (SacnVector.RootSecured, _) => SacnPacketType.Secured,
        _ => SacnPacketType.Unknown,
    };

    /// <summary>Whether the root layer's flags and length agree with the datagram (section 5.4).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool RootLengthAgrees(int payloadLength) => AcnPacket.Agrees(_data, AcnPacket.RootFlagsAndLengthAt, payloadLength);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="root">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: no ACN identifier (section 5.3). Truncated: fewer than 44 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out SacnRootLayer root, out WireError error)
    {
        if (AcnPacket.IsAcn(data))
        {
            root = new SacnRootLayer(data);
            error = default;
            return true;
        }

        root = default;
        error = AcnPacket.RefuseIdentifier(data);
        return false;
    }
}
