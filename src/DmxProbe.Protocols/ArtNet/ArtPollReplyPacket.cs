using System.Buffers.Binary;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtPollReply packet (Art-Net 4, document 1.4dn, pages 36 to 44), a view over the payload of a UDP datagram. It has
/// no ProtVer. Replies of 207 octets are accepted; members beyond are null where the reply ends before them. In older
/// editions octets 213 to 238 are filler: a 0 there means nothing.
/// </summary>
public readonly ref struct ArtPollReplyPacket
{
    private static class Field
    {
        public const int IpAddress = 10;
        public const int Port = 14;
        public const int VersInfo = 16;
        public const int NetSwitch = 18;
        public const int SubSwitch = 19;
        public const int Oem = 20;
        public const int UbeaVersion = 22;
        public const int Status1 = 23;
        public const int EstaMan = 24;
        public const int PortName = 26;
        public const int LongName = 44;
        public const int NodeReport = 108;
        public const int NumPorts = 172;
        public const int PortTypes = 174;
        public const int GoodInput = 178;
        public const int GoodOutputA = 182;
        public const int SwIn = 186;
        public const int SwOut = 190;
        public const int AcnPriority = 194;
        public const int Style = 200;
        public const int Mac = 201;
        public const int BindIp = 207;
        public const int BindIndex = 211;
        public const int Status2 = 212;
        public const int GoodOutputB = 213;
        public const int Status3 = 217;
        public const int DefaultRespUid = 218;
        public const int RefreshRate = 226;
        public const int End = 239;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.BindIp;

    /// <summary>Octets of the packet as the document has it now.</summary>
    public const int FullLength = Field.End;

    /// <summary>Ports one reply describes; a device with more sends several replies with rising <see cref="BindIndex"/>.</summary>
    public const int Ports = 4;

    private const int PortNameLength = Field.LongName - Field.PortName;
    private const int LongNameLength = Field.NodeReport - Field.LongName;
    private const int NodeReportLength = Field.NumPorts - Field.NodeReport;
    private const int MacLength = Field.BindIp - Field.Mac;
    private const int UidLength = 6;
    private const int NetMask = 0x7F;
    private const int NibbleMask = 0x0F;

    private readonly ReadOnlySpan<byte> _data;

    private ArtPollReplyPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Octets of the reply: older devices send fewer than 239.</summary>
    public int Length => _data.Length;

    /// <summary>The address the device says it has.</summary>
    public IpAddress Ip => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.IpAddress..]));

    /// <summary>UDP port the device states, low octet first; 6454, and 13849 from devices that swap its octets.</summary>
    public ushort Port => BinaryPrimitives.ReadUInt16LittleEndian(_data[Field.Port..]);

    /// <summary>Whether the stated port is 6454 with its octets swapped.</summary>
    public bool IsPortSwapped => BinaryPrimitives.ReverseEndianness(Port) == ArtNetHeader.Port;

    /// <summary>Firmware version.</summary>
    public ushort VersInfo => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.VersInfo..]);

    /// <summary>Bits 14 to 8 of the Port-Address of all its ports.</summary>
    public byte NetSwitch => _data[Field.NetSwitch];

    /// <summary>Bits 7 to 4 of the Port-Address of all its ports.</summary>
    public byte SubSwitch => _data[Field.SubSwitch];

    /// <summary>Oem code.</summary>
    public ushort Oem => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Oem..]);

    /// <summary>Version of the user BIOS extension area; 0 = none.</summary>
    public byte UbeaVersion => _data[Field.UbeaVersion];

    /// <summary>Status1 octet.</summary>
    public byte Status1 => _data[Field.Status1];

    /// <summary>ESTA manufacturer code, low octet first.</summary>
    public ushort EstaMan => BinaryPrimitives.ReadUInt16LittleEndian(_data[Field.EstaMan..]);

    /// <summary>Octets of the port's name up to a zero octet; escape before showing.</summary>
    public ReadOnlySpan<byte> PortName => TextField.UpToZero(_data.Slice(Field.PortName, PortNameLength));

    /// <summary>Octets of the long name up to a zero octet; escape before showing.</summary>
    public ReadOnlySpan<byte> LongName => TextField.UpToZero(_data.Slice(Field.LongName, LongNameLength));

    /// <summary>Octets of the report "#xxxx [yyyy] text" up to a zero octet; escape before showing.</summary>
    public ReadOnlySpan<byte> NodeReport => TextField.UpToZero(_data.Slice(Field.NodeReport, NodeReportLength));

    /// <summary>Number of ports as stated; at most 4 allowed.</summary>
    public ushort NumPorts => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.NumPorts..]);

    /// <summary>Four octets, one a port: bit 7 output, bit 6 input, bits 5 to 0 type (0 = DMX512).</summary>
    public ReadOnlySpan<byte> PortTypes => _data.Slice(Field.PortTypes, Ports);

    /// <summary>Four octets, one a port: bit 7 data received, bit 3 disabled, bit 2 receive errors, bit 0 input is sACN.</summary>
    public ReadOnlySpan<byte> GoodInput => _data.Slice(Field.GoodInput, Ports);

    /// <summary>Four octets, one a port: bit 7 data output, bit 3 merging, bit 2 output short, bit 1 LTP, bit 0 sACN.</summary>
    public ReadOnlySpan<byte> GoodOutputA => _data.Slice(Field.GoodOutputA, Ports);

    /// <summary>Four octets, one a port: bits 3 to 0 of the input's Port-Address in the low nibble.</summary>
    public ReadOnlySpan<byte> SwIn => _data.Slice(Field.SwIn, Ports);

    /// <summary>Four octets, one a port: bits 3 to 0 of the output's Port-Address in the low nibble.</summary>
    public ReadOnlySpan<byte> SwOut => _data.Slice(Field.SwOut, Ports);

    /// <summary>sACN priority of what it sends, 0 to 200; another meaning before document 1.4d.</summary>
    public byte AcnPriority => _data[Field.AcnPriority];

    /// <summary>Kind of device: 0 node, 1 controller, 2 media server, 3 route, 4 backup, 5 configuration, 6 visualiser.</summary>
    public byte Style => _data[Field.Style];

    /// <summary>The six octets of the MAC address.</summary>
    public ReadOnlySpan<byte> Mac => _data.Slice(Field.Mac, MacLength);

    /// <summary>Address of the root device.</summary>
    public IpAddress? BindIp =>
        Has(Field.BindIp, 4) ? IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.BindIp..])) : null;

    /// <summary>Which reply of a device with more than four ports this is; 0 or 1 = root device.</summary>
    public byte? BindIndex => OctetAt(Field.BindIndex);

    /// <summary>Status2 octet.</summary>
    public byte? Status2 => OctetAt(Field.Status2);

    /// <summary>Four octets, one a port: bit 7 RDM disabled, bit 6 continuous output; empty where the reply ends before them.</summary>
    public ReadOnlySpan<byte> GoodOutputB => Has(Field.GoodOutputB, Ports) ? _data.Slice(Field.GoodOutputB, Ports) : default;

    /// <summary>Status3 octet.</summary>
    public byte? Status3 => OctetAt(Field.Status3);

    /// <summary>The six octets of the default responder's UID; empty where the reply ends before them.</summary>
    public ReadOnlySpan<byte> DefaultRespUid =>
        Has(Field.DefaultRespUid, UidLength) ? _data.Slice(Field.DefaultRespUid, UidLength) : default;

    /// <summary>Highest refresh rate of ArtDmx in Hz that it takes; 0 to 44 means 44.</summary>
    public ushort? RefreshRate =>
        Has(Field.RefreshRate, 2) ? BinaryPrimitives.ReadUInt16BigEndian(_data[Field.RefreshRate..]) : null;

    /// <summary>Whether a port can output: bit 7 of its PortTypes.</summary>
    /// <param name="port">0 to 3.</param>
    public bool IsOutput(int port) => (PortTypes[port] & 0x80) != 0;

    /// <summary>Whether a port can input: bit 6 of its PortTypes.</summary>
    /// <param name="port">0 to 3.</param>
    public bool IsInput(int port) => (PortTypes[port] & 0x40) != 0;

    /// <summary>Port-Address of a port's output, 0 to 32767.</summary>
    /// <param name="port">0 to 3.</param>
    public int OutputPortAddress(int port) => PortAddressOf(SwOut[port]);

    /// <summary>Port-Address of a port's input, 0 to 32767.</summary>
    /// <param name="port">0 to 3.</param>
    public int InputPortAddress(int port) => PortAddressOf(SwIn[port]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 207 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtPollReplyPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.PollReply, MinimumLength))
        {
            packet = new ArtPollReplyPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.PollReply, MinimumLength);
        return false;
    }

    private bool Has(int offset, int length) => _data.Length >= offset + length;

    private byte? OctetAt(int offset) => Has(offset, 1) ? _data[offset] : null;

    private int PortAddressOf(byte switchOctet) =>
        ((NetSwitch & NetMask) << 8) | ((SubSwitch & NibbleMask) << 4) | (switchOctet & NibbleMask);
}
