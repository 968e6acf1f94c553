using System.Buffers.Binary;
using System.Text;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>Writes the one Art-Net packet this program can send: the ArtPollReply of a monitor without any port (1.4dn, pages 36 to 44).</summary>
public static class ArtPollReplyWriter
{
    private const byte StyleVisualiser = 6;
    private const byte FifteenBitAddress = 0x08;

    /// <summary>Writes the reply: no input, no output, style visualiser, no OEM and no manufacturer code.</summary>
    /// <param name="destination">At least <see cref="ArtPollReplyPacket.FullLength"/> octets.</param>
    /// <param name="address">The IPv4 address to state.</param>
    /// <param name="name">Short name; ASCII, cut at 17 octets.</param>
    /// <param name="longName">Long name; ASCII, cut at 63 octets.</param>
    /// <returns>The octets written.</returns>
    public static int WriteMonitor(Span<byte> destination, IpAddress address, string name, string longName)
    {
        Span<byte> packet = destination[..ArtPollReplyPacket.FullLength];
        packet.Clear();
        "Art-Net\0"u8.CopyTo(packet);
        BinaryPrimitives.WriteUInt16LittleEndian(packet[8..], (ushort)ArtOpCode.PollReply);
        address.CopyTo(packet[10..]);
        BinaryPrimitives.WriteUInt16LittleEndian(packet[14..], ArtNetHeader.Port);
        Put(packet.Slice(26, 18), name);
        Put(packet.Slice(44, 64), longName);
        Put(packet.Slice(108, 64), "#0001 [0000] listens only");
        packet[200] = StyleVisualiser;
        address.CopyTo(packet[207..]);
        packet[211] = 1;
        packet[212] = FifteenBitAddress;
        return packet.Length;
    }

    // A text field ends with a zero octet.
    private static void Put(Span<byte> field, string text) =>
        Encoding.ASCII.GetBytes(text.AsSpan(0, Math.Min(text.Length, field.Length - 1)), field);
}
