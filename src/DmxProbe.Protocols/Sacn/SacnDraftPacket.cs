using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>
/// Data packet in the layout of the draft before E1.31 was ratified, still sent by old equipment; a view over the
/// payload of a UDP datagram. The layout is known from general dissectors, not from a standard.
/// </summary>
public readonly ref struct SacnDraftPacket
{
    private static class Field
    {
        public const int SourceName = 44;
        public const int Priority = 76;
        public const int SequenceNumber = 77;
        public const int Universe = 78;
        public const int DmpFlagsAndLength = 80;
        public const int DmpVector = 82;
        public const int AddressAndDataType = 83;
        public const int StartCode = 84;
        public const int AddressIncrement = 86;
        public const int PropertyValueCount = 88;
        public const int Slots = 90;
    }

    /// <summary>Octets of the packet before slot 1; the shortest packet.</summary>
    public const int HeaderLength = Field.Slots;

    /// <summary>Octets of the source name field.</summary>
    public const int SourceNameLength = 32;

    /// <summary>Most slots of a packet; here the START code is not counted.</summary>
    public const int MaximumPropertyValueCount = 512;

    private const byte KnownAddressType = 0xA1;

    private readonly ReadOnlySpan<byte> _data;

    private SacnDraftPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Who sent it.</summary>
    public Cid Cid => Sacn.Cid.Read(_data[AcnPacket.CidAt..]);

    /// <summary>UTF-8 octets of the source name up to its zero octet; escape before showing.</summary>
    public ReadOnlySpan<byte> SourceName => TextField.UpToZero(_data.Slice(Field.SourceName, SourceNameLength));

    /// <summary>Priority as sent, 0 to 255.</summary>
    public byte Priority => _data[Field.Priority];

    /// <summary>Sequence number.</summary>
    public byte Sequence => _data[Field.SequenceNumber];

    /// <summary>Universe as sent.</summary>
    public ushort Universe => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Universe..]);

    /// <summary>START code: the low octet of the field that later became the first property address.</summary>
    public byte StartCode => _data[Field.StartCode + 1];

    /// <summary>Slots as counted by the sender, 0 to 512.</summary>
    public ushort PropertyCount => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.PropertyValueCount..]);

    /// <summary>Slot 1 first; as many as are both counted and present.</summary>
    public ReadOnlySpan<byte> Slots => _data[Field.Slots..];

    /// <summary>How many of the counted slots are not there.</summary>
    public int SlotsMissing => PropertyCount - Slots.Length;

    /// <summary>Whether vector and increment of the DMP layer are the ones this layout has.</summary>
    public bool AreDmpFieldsValid =>
        _data[Field.DmpVector] == SacnVector.DmpSetProperty
        && BinaryPrimitives.ReadUInt16BigEndian(_data[Field.AddressIncrement..]) == 1;

    /// <summary>Whether all three flags and length fields agree with the datagram.</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool FlagsAndLengthAgree(int payloadLength) =>
        AcnPacket.Agrees(_data, AcnPacket.RootFlagsAndLengthAt, payloadLength)
        && AcnPacket.Agrees(_data, AcnPacket.FramingFlagsAndLengthAt, payloadLength)
        && AcnPacket.Agrees(_data, Field.DmpFlagsAndLength, payloadLength);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">
    /// NotThisProtocol: no ACN identifier or other vectors. Truncated: fewer than 90 octets. Invalid: an address type
    /// other than A1h (the variant A2h has wider addresses and is not decoded), or a count over 512.
    /// </param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out SacnDraftPacket packet, out WireError error)
    {
        packet = default;
        if (data.Length < HeaderLength || !AcnPacket.Is(data, SacnVector.RootDraft, SacnVector.FramingData))
        {
            error = AcnPacket.Refuse(data, SacnVector.RootDraft, SacnVector.FramingData, HeaderLength);
            return false;
        }

        byte addressType = data[Field.AddressAndDataType];
        if (addressType != KnownAddressType)
        {
            error = new(WireErrorKind.Invalid, Field.AddressAndDataType, KnownAddressType, addressType);
            return false;
        }

        int count = BinaryPrimitives.ReadUInt16BigEndian(data[Field.PropertyValueCount..]);
        if (count > MaximumPropertyValueCount)
        {
            error = new(WireErrorKind.Invalid, Field.PropertyValueCount, MaximumPropertyValueCount, count);
            return false;
        }

        packet = new SacnDraftPacket(data[..Math.Min(data.Length, HeaderLength + count)]);
        error = default;
        return true;
    }
}
