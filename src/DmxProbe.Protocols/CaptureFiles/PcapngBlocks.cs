using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>The blocks of a pcapng file: framing, byte order and section headers; says nothing about what is inside.</summary>
internal sealed class PcapngBlocks(ByteWindow window, CaptureDamage damage)
{
    private const int ShortestSectionHeader = 28;

    /// <summary>Byte order of the current section.</summary>
    public bool BigEndian { get; private set; }

    /// <summary>Offset of the current block's body.</summary>
    public long BodyPosition { get; private set; }

    /// <summary>Why there is no next block, or null at the proper end.</summary>
    public InputProblem? Problem { get; private set; }

    /// <summary>Moves to the next block.</summary>
    /// <param name="recordsBefore">Records delivered so far, for the sentence.</param>
    /// <param name="type">Its type.</param>
    /// <param name="body">What stands between its two total lengths; valid until the next call.</param>
    /// <returns>False at the end of the file or where it is damaged.</returns>
    public bool TryNext(long recordsBefore, out uint type, out ReadOnlySpan<byte> body)
    {
        body = default;
        type = 0;
        if (!window.Has(PcapngFormat.BlockOverhead))
        {
            if (window.Available > 0)
            {
                Problem ??= damage.Cut(window, "a pcapng block header", PcapngFormat.BlockOverhead, recordsBefore);
            }
            else if (window.Failure is not null)
            {
                Problem ??= damage.Unreadable(window, recordsBefore);
            }

            return false;
        }

        ReadOnlySpan<byte> header = window.Peek(PcapngFormat.BlockOverhead);
        type = BinaryPrimitives.ReadUInt32LittleEndian(header);
        if (type == PcapngFormat.SectionHeader)
        {
            if (!TrySetByteOrder(header[8..], recordsBefore))
            {
                return false;
            }
        }
        else if (BigEndian)
        {
            type = BinaryPrimitives.ReverseEndianness(type);
        }

        uint total = UInt32(header[4..]);
        if (total < PcapngFormat.BlockOverhead || total % 4 != 0 || total > PcapngFormat.LongestBlock)
        {
            return Wrong(
                "a pcapng block has an impossible length", 4, "a multiple of 4 from 12 to 16,777,216", CaptureDamage.Number(total), recordsBefore);
        }

        int length = (int)total;
        if (!window.Has(length))
        {
            Problem ??= damage.Cut(window, "a pcapng block", length, recordsBefore);
            return false;
        }

        ReadOnlySpan<byte> block = window.Peek(length);
        uint trailer = UInt32(block[^4..]);
        if (trailer != total)
        {
            return Wrong(
                "a pcapng block does not end with its own length",
                length - 4,
                CaptureDamage.Number(total),
                CaptureDamage.Number(trailer),
                recordsBefore);
        }

        if (type == PcapngFormat.SectionHeader && !IsKnownSection(block, recordsBefore))
        {
            return false;
        }

        BodyPosition = window.Position + 8;
        body = block[8..^4];
        window.Skip(length);
        return true;
    }

    private bool TrySetByteOrder(ReadOnlySpan<byte> magic, long recordsBefore)
    {
        uint order = BinaryPrimitives.ReadUInt32LittleEndian(magic);
        BigEndian = order == BinaryPrimitives.ReverseEndianness(PcapngFormat.ByteOrderMagic);
        return BigEndian
            || order == PcapngFormat.ByteOrderMagic
            || Wrong(
                "a pcapng section does not state its byte order",
                8,
                "1A2B3C4D in either order",
                Convert.ToHexString(magic[..4]),
                recordsBefore);
    }

    private bool IsKnownSection(ReadOnlySpan<byte> block, long recordsBefore)
    {
        if (block.Length < ShortestSectionHeader)
        {
            return Wrong("a pcapng section header is too short", 4, "28 octets", CaptureDamage.Number(block.Length), recordsBefore);
        }

        uint versions = UInt32(block[12..]);
        uint major = BigEndian ? versions >> 16 : versions & 0xFFFF;
        uint minor = BigEndian ? versions & 0xFFFF : versions >> 16;
        // 1.2 was written by some tools and means the same as 1.0.
        return (major == 1 && minor is 0 or 2)
            || Wrong("a pcapng section of another version", 12, "version 1.0", $"{major}.{minor}", recordsBefore);
    }

    private bool Wrong(string what, int offset, string expected, string found, long recordsBefore)
    {
        Problem ??= damage.Wrong(what, window.Position + offset, expected, found, recordsBefore);
        return false;
    }

    private uint UInt32(ReadOnlySpan<byte> data) =>
        BigEndian ? BinaryPrimitives.ReadUInt32BigEndian(data) : BinaryPrimitives.ReadUInt32LittleEndian(data);
}
