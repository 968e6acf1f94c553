using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>
/// sACN data packet (E1.31-2018 section 4.1, Table 4-1), a view over the payload of a UDP datagram. Only what makes it
/// unreadable is refused; which rules it breaks is asked of the view.
/// </summary>
public readonly ref struct SacnDataPacket
{
    private static class Field
    {
        public const int SourceName = 44;
        public const int Priority = 108;
        public const int SynchronizationAddress = 109;
        public const int SequenceNumber = 111;
        public const int Options = 112;
        public const int Universe = 113;
        public const int DmpFlagsAndLength = 115;
        public const int DmpVector = 117;
        public const int AddressAndDataType = 118;
        public const int FirstPropertyAddress = 119;
        public const int AddressIncrement = 121;
        public const int PropertyValueCount = 123;
        public const int StartCode = 125;
        public const int Slots = 126;
    }

    /// <summary>Octets of the packet before slot 1; the shortest packet.</summary>
    public const int HeaderLength = Field.Slots;

    /// <summary>Largest property value count: START code and 512 slots (section 7.6).</summary>
    public const int MaximumPropertyValueCount = 513;

    /// <summary>Octets of the source name field (section 6.2.2).</summary>
    public const int SourceNameLength = 64;

    /// <summary>Highest priority that may be sent (section 6.2.3).</summary>
    public const int MaximumPriority = 200;

    private const ulong Vectors = ((ulong)SacnVector.RootData << 32) | SacnVector.FramingData;
    private const ulong DmpRules = 0x02A100000001; // vector, type, first address, increment: sections 7.2 to 7.5

    private const uint PreambleAndPostamble = 0x00100000; // sections 5.1 and 5.2

    private const int PreviewBit = 0x80;
    private const int TerminatedBit = 0x40;
    private const int ForceSynchronizationBit = 0x20;

    private readonly ReadOnlySpan<byte> _data;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private SacnDataPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>The 16 octets of the CID (section 5.6).</summary>
    public ReadOnlySpan<byte> CidOctets => _data.Slice(AcnPacket.CidAt, Sacn.Cid.Length);

    /// <summary>Who sent it (section 5.6).</summary>
    public Cid Cid => Sacn.Cid.Read(_data[AcnPacket.CidAt..]);

    /// <summary>UTF-8 octets of the source name up to its zero octet (section 6.2.2); escape before showing.</summary>
    public ReadOnlySpan<byte> SourceName => TextField.UpToZero(_data.Slice(Field.SourceName, SourceNameLength));

    /// <summary>Whether the source name ends with a zero octet, as it shall (section 6.2.2).</summary>
    public bool IsSourceNameTerminated => _data.Slice(Field.SourceName, SourceNameLength).Contains((byte)0);

    /// <summary>Priority as sent, 0 to 255; the higher wins (section 6.2.3).</summary>
    public byte Priority => _data[Field.Priority];

    /// <summary>Whether the priority is one that may be sent, 0 to 200 (section 6.2.3).</summary>
    public bool IsPriorityAllowed => Priority <= MaximumPriority;

    /// <summary>Synchronization address; 0 = act at once (section 6.2.4).</summary>
    public ushort SyncAddress => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SynchronizationAddress..]);

    /// <summary>Sequence number; one count per source and universe (section 6.2.5).</summary>
    public byte Sequence => _data[Field.SequenceNumber];

    /// <summary>Options octet (section 6.2.6).</summary>
    public byte Options => _data[Field.Options];

    /// <summary>Preview_Data: not for live output (section 6.2.6).</summary>
    public bool IsPreview => (Options & PreviewBit) != 0;

    /// <summary>Stream_Terminated: the stream ends, the slots are to be ignored (section 6.2.6).</summary>
    public bool IsTerminated => (Options & TerminatedBit) != 0;

    /// <summary>Force_Synchronization: a receiver that lost synchronization need not wait (section 6.2.6).</summary>
    public bool ForceSynchronization => (Options & ForceSynchronizationBit) != 0;

    /// <summary>Universe as sent, 0 to 65535 (section 6.2.7).</summary>
    public ushort Universe => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Universe..]);

    /// <summary>Whether the universe is one for data, 1 to 63999 (section 9.1.1).</summary>
    public bool IsUniverseAllowed => SacnAddressing.IsDataUniverse(Universe);

    /// <summary>Property value count, 1 to 513: START code and slots (section 7.6).</summary>
    public ushort PropertyCount => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.PropertyValueCount..]);

    /// <summary>START code, the first property value (section 7.7).</summary>
    public byte StartCode => _data[Field.StartCode];

    /// <summary>Slot 1 first; as many as are both counted and present, 0 to 512.</summary>
    public ReadOnlySpan<byte> Slots => _data[Field.Slots..];

    /// <summary>How many of the counted slots are not there: cut by the snap length or never sent.</summary>
    public int SlotsMissing => PropertyCount - 1 - Slots.Length;

    /// <summary>Whether all eight octets of the DMP layer that allow one value only have it (sections 7.2 to 7.5).</summary>
    public bool AreDmpFieldsValid => BinaryPrimitives.ReadUInt64BigEndian(_data[Field.DmpVector..]) >> 16 == DmpRules;

    /// <summary>
    /// The first field for which receivers discard the packet although it can be read: preamble, post-amble or DMP layer
    /// (sections 5.1, 5.2, 7.2 to 7.5); kind None if there is none. Offset, expected and found are the field's.
    /// </summary>
    public WireError FirstRuleBroken
    {
        get
        {
            WireError error = Word(AcnPacket.PreambleSizeAt, AcnPacket.PreambleSize);
            error = error.Kind != WireErrorKind.None ? error : Word(AcnPacket.PostambleSizeAt, AcnPacket.PostambleSize);
            if (error.Kind != WireErrorKind.None || AreDmpFieldsValid)
            {
                return error;
            }

            if (_data[Field.DmpVector] != SacnVector.DmpSetProperty)
            {
                return Broken(Field.DmpVector, SacnVector.DmpSetProperty, _data[Field.DmpVector]);
            }

            if (_data[Field.AddressAndDataType] != 0xA1)
            {
                return Broken(Field.AddressAndDataType, 0xA1, _data[Field.AddressAndDataType]);
            }

            error = Word(Field.FirstPropertyAddress, 0);
            return error.Kind != WireErrorKind.None ? error : Word(Field.AddressIncrement, 1);
        }
    }

    /// <summary>Whether the root layer's flags and length agree with the datagram (section 5.4).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool RootLengthAgrees(int payloadLength) => AcnPacket.Agrees(_data, AcnPacket.RootFlagsAndLengthAt, payloadLength);

    /// <summary>Whether the framing layer's flags and length agree with the datagram (section 6.1).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool FramingLengthAgrees(int payloadLength) => AcnPacket.Agrees(_data, AcnPacket.FramingFlagsAndLengthAt, payloadLength);

    /// <summary>Whether the DMP layer's flags and length agree with the datagram (section 7.1).</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool DmpLengthAgrees(int payloadLength) => AcnPacket.Agrees(_data, Field.DmpFlagsAndLength, payloadLength);

    /// <summary>Whether all three flags and length fields agree with the datagram.</summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    public bool FlagsAndLengthAgree(int payloadLength) =>
        RootLengthAgrees(payloadLength) && FramingLengthAgrees(payloadLength) && DmpLengthAgrees(payloadLength);

    /// <summary>
    /// Whether everything that can be told from the packet alone is as the standard has it: preamble, post-amble, the
    /// three flags and length fields, the DMP layer, priority and universe. The quick question before the single ones.
    /// </summary>
    /// <param name="payloadLength">Octets of payload the UDP header states.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool FollowsRules(int payloadLength) =>
        BinaryPrimitives.ReadUInt32BigEndian(_data) == PreambleAndPostamble
        && AreDmpFieldsValid
        && FlagsAndLengthAgree(payloadLength)
        && IsPriorityAllowed
        && IsUniverseAllowed;

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">
    /// NotThisProtocol: no ACN identifier or other vectors. Truncated: fewer than 126 octets. Invalid: property value
    /// count 0 or over 513.
    /// </param>
    /// <returns>Whether it can be read.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryParse(ReadOnlySpan<byte> data, out SacnDataPacket packet, out WireError error)
    {
        if (data.Length >= HeaderLength && AcnPacket.IsAcn(data) && VectorsOf(data) == Vectors)
        {
            int count = BinaryPrimitives.ReadUInt16BigEndian(data[Field.PropertyValueCount..]);
            if (count is > 0 and <= MaximumPropertyValueCount)
            {
                int end = Field.StartCode + count;
                packet = new SacnDataPacket(end < data.Length ? data[..end] : data);
                error = default;
                return true;
            }
        }

        packet = default;
        error = Refuse(data);
        return false;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong VectorsOf(ReadOnlySpan<byte> data) =>
        ((ulong)BinaryPrimitives.ReadUInt32BigEndian(data[AcnPacket.RootVectorAt..]) << 32)
        | BinaryPrimitives.ReadUInt32BigEndian(data[AcnPacket.FramingVectorAt..]);

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static WireError Refuse(ReadOnlySpan<byte> data) =>
        data.Length >= HeaderLength && AcnPacket.IsAcn(data) && VectorsOf(data) == Vectors
            ? Broken(
                Field.PropertyValueCount,
                MaximumPropertyValueCount,
                BinaryPrimitives.ReadUInt16BigEndian(data[Field.PropertyValueCount..]))
            : AcnPacket.Refuse(data, SacnVector.RootData, SacnVector.FramingData, HeaderLength);

    private static WireError Broken(int offset, int expected, int found) =>
        new(WireErrorKind.Invalid, offset, expected, found);

    private WireError Word(int offset, int expected)
    {
        int found = BinaryPrimitives.ReadUInt16BigEndian(_data[offset..]);
        return found == expected ? default : Broken(offset, expected, found);
    }
}
