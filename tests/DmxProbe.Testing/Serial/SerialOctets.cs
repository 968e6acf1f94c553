using System.Buffers.Binary;

namespace DmxProbe.Testing.Serial;

/// <summary>Octets as serial interfaces send them.</summary>
public static class SerialOctets
{
    /// <summary>A framed message: 7E, label, length low, length high, payload, E7.</summary>
    public static byte[] Framed(int label, params byte[] payload)
    {
        byte[] message = new byte[payload.Length + 5];
        message[0] = 0x7E;
        message[1] = (byte)label;
        BinaryPrimitives.WriteUInt16LittleEndian(message.AsSpan(2), (ushort)payload.Length);
        payload.CopyTo(message, 4);
        message[^1] = 0xE7;
        return message;
    }

    /// <summary>A received packet as a framed message: status 0, START code, slots.</summary>
    public static byte[] Received(int startCode, params byte[] slots) => Framed(5, [0, (byte)startCode, .. slots]);

    /// <summary>A break and a packet as a port with PARMRK marks them: FF 00 00, then the octets, FF doubled.</summary>
    public static byte[] Marked(params byte[] packet) =>
        [0xFF, 0, 0, .. packet.SelectMany(octet => octet == 0xFF ? new byte[] { 0xFF, 0xFF } : [octet])];

    /// <summary>A record's bytes: status 0 and each octet.</summary>
    public static byte[] Run(ReadOnlySpan<byte> octets)
    {
        byte[] run = new byte[2 * octets.Length];
        for (int i = 0; i < octets.Length; i++)
        {
            run[(2 * i) + 1] = octets[i];
        }

        return run;
    }
}
