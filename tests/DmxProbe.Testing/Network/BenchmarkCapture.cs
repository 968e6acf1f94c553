using System.Buffers.Binary;
using System.Globalization;
using System.Runtime.InteropServices;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>
/// Writes a large classic pcap of sACN, fast enough that making it is not the slow part of a measurement: universes of
/// 512 slots at 44 Hz from a few senders; on a third of the frames about 30 % of the slots change.
/// </summary>
public static class BenchmarkCapture
{
    private const int FileHeader = 24;
    private const int RecordHeader = 16;
    private const int FrameLength = 14 + 20 + 8 + 638;
    private const int RecordLength = RecordHeader + FrameLength;
    private const int Udp = RecordHeader + 14 + 20;
    private const int UdpChecksum = Udp + 6;
    private const int Sequence = Udp + 8 + 111;
    private const int Slots = Udp + 8 + 126;
    private const int SlotGroups = 512 / sizeof(ulong);
    private const long FirstTime = 1_700_000_000;
    private const int NanosecondsInSecond = 1_000_000_000;

    /// <summary>Writes whole rounds of all universes until the size is reached.</summary>
    /// <param name="stream">Where to.</param>
    /// <param name="universes">How many universes, numbered from 1.</param>
    /// <param name="megabytes">Least size in units of 1,000,000 octets.</param>
    /// <param name="senders">How many senders share the universes.</param>
    /// <param name="nanoseconds">True for times in nanoseconds, false for microseconds.</param>
    /// <returns>Packets written.</returns>
    public static long Write(
        Stream stream, int universes = 200, int megabytes = 500, int senders = 4, bool nanoseconds = true)
    {
        byte[] round = new byte[universes * RecordLength];
        for (int u = 0; u < universes; u++)
        {
            Template(u + 1, u % senders).CopyTo(round, u * RecordLength);
        }

        stream.Write(Header(nanoseconds));
        SeededRandom random = new(44);
        long packets = 0;
        for (long written = FileHeader; written < megabytes * 1_000_000L; written += round.Length)
        {
            long start = packets / universes * StreamPlan.Tick44;
            for (int u = 0; u < universes; u++)
            {
                Span<byte> record = round.AsSpan(u * RecordLength, RecordLength);
                Stamp(record, start + (StreamPlan.Tick44 * u / universes), nanoseconds);
                Advance(record, random);
            }

            stream.Write(round);
            packets += universes;
        }

        return packets;
    }

    private static byte[] Header(bool nanoseconds)
    {
        byte[] header = new byte[FileHeader];
        BinaryPrimitives.WriteUInt32LittleEndian(header, nanoseconds ? 0xA1B23C4D : 0xA1B2C3D4);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(4), 2);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(6), 4);
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(16), 262_144);
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(20), 1);
        return header;
    }

    private static byte[] Template(int universe, int sender)
    {
        string number = (sender + 1).ToString(CultureInfo.InvariantCulture);
        Host host = Host.At("sender " + number, "10.30.0." + number);
        byte[] cid = SacnPackets.Cid("0c7a5f10-5b1e-4c63-8a57-00000000000" + number);
        byte[] payload = SacnPackets.Data(cid, host.Name, universe, universe & 0xFF, new byte[512]);
        byte[] record = new byte[RecordLength];
        BinaryPrimitives.WriteInt32LittleEndian(record.AsSpan(8), FrameLength);
        BinaryPrimitives.WriteInt32LittleEndian(record.AsSpan(12), FrameLength);
        UdpFrames.Build(UdpPath.ToSacnGroup(host, universe), payload).CopyTo(record, RecordHeader);
        return record;
    }

    private static void Stamp(Span<byte> record, long time, bool nanoseconds)
    {
        (long seconds, long rest) = Math.DivRem(time, NanosecondsInSecond);
        BinaryPrimitives.WriteUInt32LittleEndian(record, (uint)(FirstTime + seconds));
        BinaryPrimitives.WriteUInt32LittleEndian(record[4..], (uint)(nanoseconds ? rest : rest / 1_000));
    }

    /// <summary>The next packet of a universe.</summary>
    private static void Advance(Span<byte> record, SeededRandom random)
    {
        unchecked
        {
            record[Sequence]++;
        }

        if (random.Next(0, 3) == 0)
        {
            // Each group of eight slots moves with a chance of 1/4 + 1/16 = 31 %.
            ulong moving = random.NextBits() & random.NextBits();
            moving |= random.NextBits() & random.NextBits() & random.NextBits() & random.NextBits();
            Span<ulong> groups = MemoryMarshal.Cast<byte, ulong>(record.Slice(Slots, 512));
            for (int i = 0; i < SlotGroups; i++)
            {
                if ((moving >> i & 1) != 0)
                {
                    groups[i] ^= random.NextBits();
                }
            }
        }

        BinaryPrimitives.WriteUInt16BigEndian(record[UdpChecksum..], Checksum(record));
    }

    private static ushort Checksum(Span<byte> record)
    {
        record[UdpChecksum] = 0;
        record[UdpChecksum + 1] = 0;

        // Addresses and UDP datagram in one run; then protocol and length, the rest of the pseudo header. One's
        // complement sums do not mind the order of octets, so words are added as the machine reads them (RFC 1071).
        ReadOnlySpan<byte> summed = record[(Udp - 8)..];
        ulong sum = 0;
        foreach (uint word in MemoryMarshal.Cast<byte, uint>(summed))
        {
            sum += word;
        }

        int whole = summed.Length & ~3;
        sum += MemoryMarshal.Read<ushort>(summed[whole..]);
        sum += BinaryPrimitives.ReverseEndianness((ushort)17);
        sum += BinaryPrimitives.ReverseEndianness((ushort)(8 + 638));
        while (sum > 0xFFFF)
        {
            sum = (sum & 0xFFFF) + (sum >> 16);
        }

        ushort checksum = BinaryPrimitives.ReverseEndianness((ushort)(~sum & 0xFFFF));
        return checksum == 0 ? (ushort)0xFFFF : checksum;
    }
}
