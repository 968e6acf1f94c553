using System.Buffers.Binary;

namespace DmxProbe.Protocols.Net;

/// <summary>The checksum of RFC 1071, used by IP, IGMP, ICMP and UDP.</summary>
internal static class InternetChecksum
{
    /// <summary>The complement of the sum of 16-bit words; 0 over octets that contain their own right checksum.</summary>
    public static ushort Of(ReadOnlySpan<byte> data)
    {
        ulong sum = 0;
        while (data.Length >= sizeof(ushort))
        {
            sum += BinaryPrimitives.ReadUInt16BigEndian(data);
            data = data[sizeof(ushort)..];
        }

        sum += data.IsEmpty ? 0UL : (ulong)data[0] << 8;
        while (sum > ushort.MaxValue)
        {
            sum = (sum & ushort.MaxValue) + (sum >> 16);
        }

        return unchecked((ushort)~sum);
    }
}
