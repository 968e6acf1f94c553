using System.Net;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>What an ArtPollReply says; a node with one port (standards-facts C4).</summary>
public sealed record ArtPollReplyFields
{
    /// <summary>IPv4 address of the node; also used as its BindIp.</summary>
    public required IPAddress Address { get; init; }

    /// <summary>The UDP port it states; some nodes state a byte-swapped one (0x3619).</summary>
    public int StatedPort { get; init; } = ArtNetPackets.Port;

    /// <summary>Firmware version.</summary>
    public int Version { get; init; } = 0x0102;

    /// <summary>15-bit Port-Address of its port.</summary>
    public int PortAddress { get; init; }

    /// <summary>OEM code.</summary>
    public int Oem { get; init; } = 0x1234;

    /// <summary>Status1.</summary>
    public int Status1 { get; init; } = 0xD2;

    /// <summary>ESTA manufacturer code; 7FF0h and up are for prototypes.</summary>
    public int EstaManufacturer { get; init; } = 0x7FF0;

    /// <summary>Port name, at most 17 octets.</summary>
    public string PortName { get; init; } = "";

    /// <summary>Long name, at most 63 octets.</summary>
    public string LongName { get; init; } = "";

    /// <summary>Node report, at most 63 octets.</summary>
    public string NodeReport { get; init; } = "";

    /// <summary>NumPorts.</summary>
    public int PortCount { get; init; } = 1;

    /// <summary>PortTypes[0]: 80h output, 40h input.</summary>
    public int PortType { get; init; } = 0x80;

    /// <summary>GoodInput[0].</summary>
    public int GoodInput { get; init; }

    /// <summary>GoodOutputA[0]: 80h = data is output, bit 3 = merging.</summary>
    public int GoodOutputA { get; init; } = 0x80;

    /// <summary>AcnPriority.</summary>
    public int AcnPriority { get; init; } = 100;

    /// <summary>Style: 0 node, 1 controller.</summary>
    public int Style { get; init; }

    /// <summary>MAC address, 6 octets.</summary>
    public byte[] Mac { get; init; } = [2, 0, 0, 0, 0, 1];

    /// <summary>BindIndex.</summary>
    public int BindIndex { get; init; } = 1;

    /// <summary>Status2.</summary>
    public int Status2 { get; init; } = 0x08;

    /// <summary>GoodOutputB[0].</summary>
    public int GoodOutputB { get; init; } = 0xC0;

    /// <summary>RefreshRate in Hz.</summary>
    public int RefreshRate { get; init; } = 44;

    /// <summary>Octets to send; 239 as the newest text has it, 207 the least a receiver must take.</summary>
    public int Length { get; init; } = 239;
}
