using System.Buffers.Binary;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtRdmSub packet: values of many sub-devices of one RDM device at once (Art-Net 4, document 1.4dn, page 105); a view over
/// the payload of a UDP datagram. It names no Port-Address.
/// </summary>
public readonly ref struct ArtRdmSubPacket
{
    private static class Field
    {
        public const int RdmVer = 12;
        public const int Uid = 14;
        public const int CommandClass = 21;
        public const int Parameter = 22;
        public const int SubDevice = 24;
        public const int SubCount = 26;
        public const int Data = 32;
    }

    /// <summary>Octets before the values.</summary>
    public const int HeaderLength = Field.Data;

    private const int ValueLength = 2;
    private readonly ReadOnlySpan<byte> _data;

    private ArtRdmSubPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>RDM version as sent.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>The device.</summary>
    public RdmUid Uid => RdmUid.Read(_data[Field.Uid..]);

    /// <summary>What is asked or answered.</summary>
    public RdmCommandClass CommandClass => (RdmCommandClass)_data[Field.CommandClass];

    /// <summary>Parameter ID.</summary>
    public int Parameter => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Parameter..]);

    /// <summary>The first sub-device; 0 = the device itself.</summary>
    public int FirstSubDevice => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SubDevice..]);

    /// <summary>How many sub-devices, as stated.</summary>
    public int SubCount => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SubCount..]);

    /// <summary>Values present: one for each sub-device in an answer to GET and in SET, none in GET and in an answer to SET.</summary>
    public int ValueCount => CarriesValues ? Math.Min(SubCount, (_data.Length - Field.Data) / ValueLength) : 0;

    /// <summary>Values that are stated and not there.</summary>
    public int ValuesMissing => CarriesValues ? SubCount - ValueCount : 0;

    /// <summary>One value, 0 to 65535.</summary>
    /// <param name="index">0 to <see cref="ValueCount"/> - 1.</param>
    public int Value(int index) => BinaryPrimitives.ReadUInt16BigEndian(_data[(Field.Data + (ValueLength * index))..]);

    private bool CarriesValues => CommandClass is RdmCommandClass.Set or RdmCommandClass.GetResponse;

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 32 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtRdmSubPacket packet, out WireError error)
    {
        bool isRead = ArtNetHeader.Is(data, ArtOpCode.RdmSub, HeaderLength);
        packet = isRead ? new ArtRdmSubPacket(data) : default;
        error = isRead ? default : ArtNetHeader.Refuse(data, ArtOpCode.RdmSub, HeaderLength);
        return isRead;
    }
}
