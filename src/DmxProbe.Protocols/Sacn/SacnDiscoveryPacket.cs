using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>
/// sACN universe discovery packet (E1.31-2018 section 4.3, Table 4-3), a view over the payload of a UDP datagram: one
/// page of the list of universes a source sends data or synchronization on.
/// </summary>
public readonly ref struct SacnDiscoveryPacket
{
    private static class Field
    {
        public const int SourceName = 44;
        public const int Reserved = 108;
        public const int ListFlagsAndLength = 112;
        public const int ListVector = 114;
        public const int Page = 118;
        public const int LastPage = 119;
        public const int Universes = 120;
    }

    /// <summary>Octets of the packet before the first universe; the shortest packet.</summary>
    public const int HeaderLength = Field.Universes;

    /// <summary>Most universes on one page (section 8.5).</summary>
    public const int MaximumUniverses = 512;

    private const int UniverseLength = sizeof(ushort);
    private const int LengthMask = 0x0FFF;

    private readonly ReadOnlySpan<byte> _data;

    private SacnDiscoveryPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Who sent it (section 5.6).</summary>
    public Cid Cid => Sacn.Cid.Read(_data[AcnPacket.CidAt..]);

    /// <summary>UTF-8 octets of the source name up to its zero octet (section 6.4.2); escape before showing.</summary>
    public ReadOnlySpan<byte> SourceName =>
        TextField.UpToZero(_data.Slice(Field.SourceName, SacnDataPacket.SourceNameLength));

    /// <summary>Whether the source name ends with a zero octet, as it shall (section 6.4.2).</summary>
    public bool IsSourceNameTerminated =>
        _data.Slice(Field.SourceName, SacnDataPacket.SourceNameLength).Contains((byte)0);

    /// <summary>Reserved octets, sent as 0 and ignored by receivers (section 6.4.3).</summary>
    public uint Reserved => BinaryPrimitives.ReadUInt32BigEndian(_data[Field.Reserved..]);

    /// <summary>Vector of the list layer; other than 1, receivers discard the packet (section 8.2).</summary>
    public uint ListVector => BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ListVector..]);

    /// <summary>Whether the list layer has its only allowed vector (section 8.2).</summary>
    public bool IsListVectorValid => ListVector == SacnVector.UniverseList;

    /// <summary>Number of this page, from 0 (section 8.3).</summary>
    public byte Page => _data[Field.Page];

    /// <summary>Number of the last page, from 0 (section 8.4).</summary>
    public byte LastPage => _data[Field.LastPage];

    /// <summary>How many universes this page holds: as many as are both stated and present, 0 to 512.</summary>
    public int UniverseCount => (_data.Length - Field.Universes) / UniverseLength;

    /// <summary>A universe of the list, sorted by number when the source keeps section 8.5.</summary>
    /// <param name="index">From 0 to below <see cref="UniverseCount"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The index is outside the list.</exception>
    public ushort Universe(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, UniverseCount);
        return BinaryPrimitives.ReadUInt16BigEndian(_data[(Field.Universes + (index * UniverseLength))..]);
    }

    /// <summary>Whether the universes rise strictly, as section 8.5 orders them.</summary>
    public bool IsSorted
    {
        get
        {
            for (int i = 1; i < UniverseCount; i++)
            {
                if (Universe(i) <= Universe(i - 1))
                {
                    return false;
                }
            }

            return true;
        }
    }

    /// <summary>Whether preamble and post-amble sizes are the only ones allowed (sections 5.1, 5.2).</summary>
    public bool IsPreambleValid => AcnPacket.IsPreambleValid(_data);

    /// <summary>Whether all three flags and length fields agree with the datagram (sections 5.4, 6.1, 8.1).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool FlagsAndLengthAgree(int payloadLength) =>
        AcnPacket.Agrees(_data, AcnPacket.RootFlagsAndLengthAt, payloadLength)
        && AcnPacket.Agrees(_data, AcnPacket.FramingFlagsAndLengthAt, payloadLength)
        && AcnPacket.Agrees(_data, Field.ListFlagsAndLength, payloadLength);

    /// <summary>Enumerates the universes of this page without allocating.</summary>
    public Enumerator GetEnumerator() => new(this);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: no ACN identifier or other vectors. Truncated: fewer than 120 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out SacnDiscoveryPacket packet, out WireError error)
    {
        if (data.Length >= HeaderLength && AcnPacket.Is(data, SacnVector.RootExtended, SacnVector.FramingDiscovery))
        {
            packet = new SacnDiscoveryPacket(data[..EndOfList(data)]);
            error = default;
            return true;
        }

        packet = default;
        error = AcnPacket.Refuse(data, SacnVector.RootExtended, SacnVector.FramingDiscovery, HeaderLength);
        return false;
    }

    /// <summary>
    /// The list layer's length where it can be true (octets behind it are not universes), else the end of the data:
    /// a wrong length field must not hide the list.
    /// </summary>
    private static int EndOfList(ReadOnlySpan<byte> data)
    {
        int stated = Field.ListFlagsAndLength
            + (BinaryPrimitives.ReadUInt16BigEndian(data[Field.ListFlagsAndLength..]) & LengthMask);
        int end = stated >= HeaderLength && stated <= data.Length ? stated : data.Length;
        return Math.Min(end, HeaderLength + (MaximumUniverses * UniverseLength));
    }

    /// <summary>Walks the universes of a page.</summary>
    public ref struct Enumerator
    {
        private readonly SacnDiscoveryPacket _packet;
        private int _index = -1;

        internal Enumerator(SacnDiscoveryPacket packet) => _packet = packet;

        /// <summary>The universe reached.</summary>
        public readonly ushort Current => _packet.Universe(_index);

        /// <summary>Goes on to the next.</summary>
        /// <returns>False at the end.</returns>
        public bool MoveNext() => ++_index < _packet.UniverseCount;
    }
}
