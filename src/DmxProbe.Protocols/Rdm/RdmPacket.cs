using System.Buffers.Binary;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Rdm;

/// <summary>
/// View of an RDM packet (ANSI E1.20, known from secondary sources), with or without its START code. All numbers are big
/// endian. A wrong checksum is no refusal: it is what a troubleshooter looks for; see <see cref="IsChecksumRight"/>.
/// </summary>
public readonly ref struct RdmPacket
{
    /// <summary>Octets before the parameter data.</summary>
    public const int HeaderLength = 24;

    /// <summary>Octets of the checksum, not counted in the message length.</summary>
    public const int ChecksumLength = 2;

    /// <summary>The only sub-START code in use.</summary>
    public const byte SubStartCode = 0x01;

    /// <summary>Most octets of parameter data.</summary>
    public const int LongestData = 231;

    // From the sub-START code on: ArtRdm leaves the START code out, and frames keep it apart.
    private readonly ReadOnlySpan<byte> _data;

    private RdmPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Octets including the START code, excluding the checksum.</summary>
    public int MessageLength => _data[Field.MessageLength];

    /// <summary>To whom.</summary>
    public RdmUid Destination => RdmUid.Read(_data[Field.Destination..]);

    /// <summary>From whom.</summary>
    public RdmUid Source => RdmUid.Read(_data[Field.Source..]);

    /// <summary>Transaction number; a responder repeats the request's.</summary>
    public byte Transaction => _data[Field.Transaction];

    /// <summary>Port ID of a request, response type of an answer.</summary>
    public byte PortOrResponseType => _data[Field.PortOrResponse];

    /// <summary>Kind of an answer; meaningful where <see cref="IsResponse"/>.</summary>
    public RdmResponseType ResponseType => (RdmResponseType)_data[Field.PortOrResponse];

    /// <summary>Messages waiting at the responder.</summary>
    public byte MessageCount => _data[Field.MessageCount];

    /// <summary>0 = the device itself, 1 to 512 a part of it, FFFFh all parts.</summary>
    public int SubDevice => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SubDevice..]);

    /// <summary>What is asked or answered.</summary>
    public RdmCommandClass CommandClass => (RdmCommandClass)_data[Field.CommandClass];

    /// <summary>True for an answer.</summary>
    public bool IsResponse => (_data[Field.CommandClass] & 1) != 0;

    /// <summary>Parameter ID; see <see cref="RdmParameter"/>.</summary>
    public int Parameter => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Parameter..]);

    /// <summary>Parameter data, as many as the packet says and holds.</summary>
    public ReadOnlySpan<byte> Data => _data[(HeaderLength - 1)..(MessageLength - 1)];

    /// <summary>True where the packet's own count of parameter data agrees with its message length.</summary>
    public bool IsDataLengthRight => _data[Field.DataLength] == MessageLength - HeaderLength;

    /// <summary>The checksum sent.</summary>
    public int Checksum => BinaryPrimitives.ReadUInt16BigEndian(_data[(MessageLength - 1)..]);

    /// <summary>True where the checksum is the 16-bit sum of every octet before it.</summary>
    public bool IsChecksumRight => Checksum == ((StartCode.Rdm + SumOf(_data[..(MessageLength - 1)])) & 0xFFFF);

    /// <summary>Octets of the packet with its checksum.</summary>
    public int Length => MessageLength + ChecksumLength;

    /// <summary>The 16-bit sum of octets.</summary>
    public static int SumOf(ReadOnlySpan<byte> octets)
    {
        int sum = 0;
        foreach (byte octet in octets)
        {
            sum += octet;
        }

        return sum & 0xFFFF;
    }

    /// <summary>Octets that a packet will have, from its first three; 0 where they begin no RDM packet.</summary>
    /// <param name="start">START code, sub-START code, message length.</param>
    public static int LengthFrom(ReadOnlySpan<byte> start) =>
        start.Length > Field.MessageLength + 1 && start[0] == StartCode.Rdm && start[1 + Field.SubStartCode] == SubStartCode
            && start[1 + Field.MessageLength] >= HeaderLength
            ? start[1 + Field.MessageLength] + ChecksumLength
            : 0;

    /// <summary>Looks at the octets of a packet.</summary>
    /// <param name="data">START code first; octets after the checksum are let be.</param>
    /// <param name="packet">The packet, valid as long as the octets.</param>
    /// <param name="error">Why not.</param>
    public static bool TryParse(ReadOnlySpan<byte> data, out RdmPacket packet, out WireError error)
    {
        packet = default;
        if (data.Length <= Field.MessageLength + 1)
        {
            error = WireError.Truncated(HeaderLength + ChecksumLength, data.Length);
            return false;
        }

        if (data[0] != StartCode.Rdm)
        {
            error = new WireError(WireErrorKind.NotThisProtocol, 0, StartCode.Rdm, data[0]);
            return false;
        }

        return TryParse(data[1..], startCodeOctets: 1, out packet, out error);
    }

    /// <summary>Looks at the octets of a packet whose START code was left out, as in ArtRdm, or is kept apart, as in a frame.</summary>
    /// <param name="data">Sub-START code first; octets after the checksum are let be.</param>
    /// <param name="packet">The packet, valid as long as the octets.</param>
    /// <param name="error">Why not.</param>
    public static bool TryParseWithoutStartCode(ReadOnlySpan<byte> data, out RdmPacket packet, out WireError error) =>
        TryParse(data, startCodeOctets: 0, out packet, out error);

    private static bool TryParse(ReadOnlySpan<byte> data, int startCodeOctets, out RdmPacket packet, out WireError error)
    {
        packet = default;
        int needed = HeaderLength + ChecksumLength - 1 + startCodeOctets;
        if (data.Length <= Field.MessageLength)
        {
            error = WireError.Truncated(needed, data.Length + startCodeOctets);
            return false;
        }

        if (data[Field.SubStartCode] != SubStartCode)
        {
            error = new WireError(WireErrorKind.NotThisProtocol, Field.SubStartCode + startCodeOctets, SubStartCode, data[Field.SubStartCode]);
            return false;
        }

        int length = data[Field.MessageLength];
        if (length < HeaderLength)
        {
            error = new WireError(WireErrorKind.Invalid, Field.MessageLength + startCodeOctets, HeaderLength, length);
            return false;
        }

        int octets = length - 1 + ChecksumLength;
        if (data.Length < octets)
        {
            error = WireError.Truncated(octets + startCodeOctets, data.Length + startCodeOctets);
            return false;
        }

        packet = new RdmPacket(data[..octets]);
        error = default;
        return true;
    }

    private static class Field
    {
        public const int SubStartCode = 0;
        public const int MessageLength = 1;
        public const int Destination = 2;
        public const int Source = 8;
        public const int Transaction = 14;
        public const int PortOrResponse = 15;
        public const int MessageCount = 16;
        public const int SubDevice = 17;
        public const int CommandClass = 19;
        public const int Parameter = 20;
        public const int DataLength = 22;
    }
}
