using System.Buffers.Binary;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>Builds packets octet by octet, without the code under test.</summary>
internal static class PacketBytes
{
    public static readonly byte[] Ipv6Source = [0x20, 0x01, 0x0D, 0xB8, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x10];
    public static readonly byte[] Ipv6Group = [0xFF, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0, 0, 1];

    public static byte[] Word(int value) => [(byte)(value >> 8), unchecked((byte)value)];

    public static byte[] Ethernet(int type, byte[] payload, params (int Type, int Tci)[] tags)
    {
        List<byte> frame = [1, 0, 0x5E, 0x7F, 0, 1, 2, 0, 0, 0, 0, 1];
        foreach ((int tagType, int tci) in tags)
        {
            frame.AddRange(Word(tagType));
            frame.AddRange(Word(tci));
        }

        return [.. frame, .. Word(type), .. payload];
    }

    public static byte[] Udp(int sourcePort, int destinationPort, byte[] payload, int? length = null) =>
        [.. Word(sourcePort), .. Word(destinationPort), .. Word(length ?? payload.Length + 8), 0, 0, .. payload];

    public static byte[] Ipv4(
        byte[] payload,
        byte[]? options = null,
        int? totalLength = null,
        int flagsAndOffset = 0,
        byte protocol = IpProtocol.Udp,
        int identification = 0x1234,
        uint source = 0xC000020A,
        uint destination = 0xEFFF0001)
    {
        options ??= [];
        int headerLength = 20 + options.Length;
        byte[] header = new byte[20];
        header[0] = (byte)(0x40 | (headerLength / 4));
        Word(totalLength ?? headerLength + payload.Length).CopyTo(header, 2);
        Word(identification).CopyTo(header, 4);
        Word(flagsAndOffset).CopyTo(header, 6);
        header[8] = 32;
        header[9] = protocol;
        BinaryPrimitives.WriteUInt32BigEndian(header.AsSpan(12), source);
        BinaryPrimitives.WriteUInt32BigEndian(header.AsSpan(16), destination);
        byte[] whole = [.. header, .. options];
        Word(HeaderChecksum(whole)).CopyTo(whole, 10);
        return [.. whole, .. payload];
    }

    public static byte[] Ipv6(byte[] payload, byte nextHeader = IpProtocol.Udp, int? payloadLength = null) =>
        [0x60, 0, 0, 0, .. Word(payloadLength ?? payload.Length), nextHeader, 7, .. Ipv6Source, .. Ipv6Group, .. payload];

    private static int HeaderChecksum(byte[] header)
    {
        int sum = 0;
        for (int i = 0; i < header.Length; i += 2)
        {
            sum += (header[i] << 8) | header[i + 1];
        }

        sum = (sum & 0xFFFF) + (sum >> 16);
        return ~((sum & 0xFFFF) + (sum >> 16)) & 0xFFFF;
    }
}
