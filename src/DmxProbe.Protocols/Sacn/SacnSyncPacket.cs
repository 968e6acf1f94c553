using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>sACN synchronization packet (E1.31-2018 section 4.2, Table 4-2), a view over the payload of a UDP datagram.</summary>
public readonly ref struct SacnSyncPacket
{
    private static class Field
    {
        public const int SequenceNumber = 44;
        public const int SynchronizationAddress = 45;
        public const int Reserved = 47;
        public const int End = 49;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private SacnSyncPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Who sent it (section 5.6).</summary>
    public Cid Cid => Sacn.Cid.Read(_data[AcnPacket.CidAt..]);

    /// <summary>Sequence number; its own count, unrelated to that of data packets (section 6.3.2).</summary>
    public byte Sequence => _data[Field.SequenceNumber];

    /// <summary>Synchronization address as sent (section 6.3.3).</summary>
    public ushort SyncAddress => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SynchronizationAddress..]);

    /// <summary>False for 0, which shall not be sent and is ignored by receivers (section 6.3.3.1), and for reserved universes (section 9.1.1).</summary>
    public bool IsSyncAddressAllowed => SacnAddressing.IsDataUniverse(SyncAddress);

    /// <summary>Reserved octets, sent as 0 and ignored by receivers (section 6.3.4).</summary>
    public ushort Reserved => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Reserved..]);

    /// <summary>Whether preamble and post-amble sizes are the only ones allowed (sections 5.1, 5.2).</summary>
    public bool IsPreambleValid => AcnPacket.IsPreambleValid(_data);

    /// <summary>Whether both flags and length fields agree with the datagram (sections 5.4, 6.1).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool FlagsAndLengthAgree(int payloadLength) =>
        AcnPacket.Agrees(_data, AcnPacket.RootFlagsAndLengthAt, payloadLength)
        && AcnPacket.Agrees(_data, AcnPacket.FramingFlagsAndLengthAt, payloadLength);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: no ACN identifier or other vectors. Truncated: fewer than 49 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out SacnSyncPacket packet, out WireError error)
    {
        if (data.Length >= Length && AcnPacket.Is(data, SacnVector.RootExtended, SacnVector.FramingSynchronization))
        {
            packet = new SacnSyncPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = AcnPacket.Refuse(data, SacnVector.RootExtended, SacnVector.FramingSynchronization, Length);
        return false;
    }
}
