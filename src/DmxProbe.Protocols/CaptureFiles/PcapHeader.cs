using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>The 24 octets at the start of a classic pcap file (draft-ietf-opsawg-pcap).</summary>
/// <param name="BigEndian">Byte order of all numbers in the file.</param>
/// <param name="FractionUnit">Nanoseconds in one unit of the fraction of a second: 1,000 or 1.</param>
/// <param name="SnapLength">Longest packet kept, in octets; 0 = unlimited.</param>
/// <param name="LinkType">How the packets start.</param>
internal readonly record struct PcapHeader(bool BigEndian, int FractionUnit, uint SnapLength, LinkType LinkType)
{
    private const int Length = 24;

    private static class Field
    {
        public const int MajorVersion = 4;
        public const int MinorVersion = 6;
        public const int SnapLength = 16;
        public const int LinkType = 20;
    }

    /// <summary>Whether the octets start with the magic of a classic pcap file.</summary>
    public static bool IsPcap(ReadOnlySpan<byte> head) =>
        head is [0xD4, 0xC3, 0xB2, 0xA1, ..] or [0xA1, 0xB2, 0xC3, 0xD4, ..] or [0x4D, 0x3C, 0xB2, 0xA1, ..] or [0xA1, 0xB2, 0x3C, 0x4D, ..];

    /// <summary>Takes the header off the window, which starts with a magic.</summary>
    /// <exception cref="InputException">It is cut or of a version with another record layout.</exception>
    public static PcapHeader Read(ByteWindow window, CaptureDamage damage, string name)
    {
        if (!window.Has(Length))
        {
            throw new InputException(name, damage.Cut(window, "the pcap file header", Length, 0));
        }

        ReadOnlySpan<byte> header = window.Peek(Length);
        bool bigEndian = header[0] == 0xA1;
        bool nanoseconds = header[bigEndian ? 3 : 0] == 0x4D;
        int major = UInt16(header[Field.MajorVersion..], bigEndian);
        int minor = UInt16(header[Field.MinorVersion..], bigEndian);
        if (major != 2 || minor < 4)
        {
            throw new InputException(
                name,
                new InputProblem(
                    "a pcap file of another version", "byte 4", "version 2.4", $"{major}.{minor}", "save the capture as pcapng and try again"));
        }

        // The upper half of the link type word holds the FCS length and its P and R bits.
        uint linkType = UInt32(header[Field.LinkType..], bigEndian) & 0xFFFF;
        uint snapLength = UInt32(header[Field.SnapLength..], bigEndian);
        window.Skip(Length);
        return new PcapHeader(bigEndian, nanoseconds ? 1 : 1_000, snapLength, (LinkType)linkType);
    }

    private static ushort UInt16(ReadOnlySpan<byte> data, bool bigEndian) =>
        bigEndian ? BinaryPrimitives.ReadUInt16BigEndian(data) : BinaryPrimitives.ReadUInt16LittleEndian(data);

    private static uint UInt32(ReadOnlySpan<byte> data, bool bigEndian) =>
        bigEndian ? BinaryPrimitives.ReadUInt32BigEndian(data) : BinaryPrimitives.ReadUInt32LittleEndian(data);
}
