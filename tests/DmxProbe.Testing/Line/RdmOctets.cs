using System.Buffers.Binary;

namespace DmxProbe.Testing.Line;

/// <summary>RDM packets for the line, built field by field from the layout (ANSI E1.20, secondary sources).</summary>
public static class RdmOctets
{
    /// <summary>A packet with its checksum, START code first.</summary>
    public static byte[] Packet(long destination, long source, byte transaction, byte portOrResponse, byte commandClass, ushort parameter, params ReadOnlySpan<byte> data)
    {
        byte[] packet = new byte[26 + data.Length];
        packet[0] = 0xCC;
        packet[1] = 0x01;
        packet[2] = (byte)(24 + data.Length);
        Uid(packet.AsSpan(3), destination);
        Uid(packet.AsSpan(9), source);
        packet[15] = transaction;
        packet[16] = portOrResponse;
        packet[20] = commandClass;
        BinaryPrimitives.WriteUInt16BigEndian(packet.AsSpan(21), parameter);
        packet[23] = (byte)data.Length;
        data.CopyTo(packet.AsSpan(24));
        int sum = 0;
        foreach (byte octet in packet.AsSpan(0, 24 + data.Length))
        {
            sum += octet;
        }

        BinaryPrimitives.WriteUInt16BigEndian(packet.AsSpan(24 + data.Length), unchecked((ushort)sum));
        return packet;
    }

    /// <summary>DISC_UNIQUE_BRANCH over all UIDs.</summary>
    public static byte[] DiscoverAll(long source) =>
        Packet(0xFFFFFFFFFFFF, source, 0, 1, 0x10, 0x0001, 0, 0, 0, 0, 0, 0, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFE);

    /// <summary>GET DMX_START_ADDRESS.</summary>
    public static byte[] GetStartAddress(long destination, long source) => Packet(destination, source, 1, 1, 0x20, 0x00F0);

    /// <summary>Its answer.</summary>
    public static byte[] StartAddressIs(long destination, long source, int address) =>
        Packet(destination, source, 1, 0, 0x21, 0x00F0, (byte)(address >> 8), unchecked((byte)address));

    /// <summary>An answer to DISC_UNIQUE_BRANCH: preamble, separator, every octet twice.</summary>
    public static byte[] DiscoveryReply(long uid, int preamble = 7)
    {
        byte[] reply = new byte[preamble + 17];
        reply.AsSpan(0, preamble).Fill(0xFE);
        reply[preamble] = 0xAA;
        Span<byte> six = stackalloc byte[6];
        Uid(six, uid);
        int sum = 0;
        for (int i = 0; i < 6; i++)
        {
            sum += Twice(reply.AsSpan(preamble + 1 + 2 * i), six[i]);
        }

        Twice(reply.AsSpan(preamble + 13), (byte)(sum >> 8));
        Twice(reply.AsSpan(preamble + 15), unchecked((byte)sum));
        return reply;
    }

    private static int Twice(Span<byte> target, byte octet)
    {
        target[0] = (byte)(octet | 0xAA);
        target[1] = (byte)(octet | 0x55);
        return target[0] + target[1];
    }

    private static void Uid(Span<byte> target, long uid)
    {
        BinaryPrimitives.WriteUInt16BigEndian(target, (ushort)(uid >> 32));
        BinaryPrimitives.WriteUInt32BigEndian(target[2..], unchecked((uint)uid));
    }
}
