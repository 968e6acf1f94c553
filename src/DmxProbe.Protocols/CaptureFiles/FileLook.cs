using System.Buffers.Binary;
using System.Text.Unicode;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Says what a file that is no capture file looks like, from its first octets.</summary>
internal static class FileLook
{
    /// <summary>Most octets looked at.</summary>
    public const int HeadLength = 512;

    private static readonly (byte[] Head, string Looks, bool Packed)[] Known =
    [
        ("PK\x03\x04"u8.ToArray(), "a zip archive", false),
        ([0x28, 0xB5, 0x2F, 0xFD], "a zstd-packed file", true),
        ([0xFD, (byte)'7', (byte)'z', (byte)'X', (byte)'Z', 0], "an xz-packed file", true),
        ("BZh"u8.ToArray(), "a bzip2-packed file", true),
        ([0x1F, 0x8B], "a gzip file inside a gzip file", true),
        ("snoop\0"u8.ToArray(), "a snoop capture (RFC 1761)", false),
        ("%PDF"u8.ToArray(), "a PDF document", false),
        ([0x89, (byte)'P', (byte)'N', (byte)'G'], "a PNG picture", false),
        ([0xFF, 0xFE], "text in UTF-16", false),
        ([0xFE, 0xFF], "text in UTF-16", false),
    ];

    /// <summary>What the octets look like.</summary>
    /// <param name="head">The first octets of the file, at least one.</param>
    /// <param name="packed">True when the file must only be unpacked.</param>
    public static string Describe(ReadOnlySpan<byte> head, out bool packed)
    {
        foreach ((byte[] start, string looks, bool isPacked) in Known)
        {
            if (head.StartsWith(start))
            {
                packed = isPacked;
                return looks;
            }
        }

        packed = false;
        string? variant = head.Length >= 4 ? PcapVariant(head) : null;
        if (variant is not null)
        {
            return variant;
        }

        return IsText(head)
            ? "text"
            : head.TrimEnd((byte)0).IsEmpty ? "zeros" : Convert.ToHexString(head[..Math.Min(4, head.Length)]);
    }

    /// <summary>Other magics of the pcap family, in the order of libpcap's sf-pcap.c; their records have another layout.</summary>
    private static string? PcapVariant(ReadOnlySpan<byte> head)
    {
        uint big = BinaryPrimitives.ReadUInt32BigEndian(head);
        uint little = BinaryPrimitives.ReadUInt32LittleEndian(head);
        foreach (uint magic in (ReadOnlySpan<uint>)[0xA1B2CD34, 0xA1B234CD, 0xA12B3C4D, 0xA1B2C3CB])
        {
            if (big == magic || little == magic)
            {
                return $"a modified pcap (magic {magic:X8}) with another record layout";
            }
        }

        return null;
    }

    /// <summary>Whether the octets can be text in UTF-8.</summary>
    public static bool IsText(ReadOnlySpan<byte> head)
    {
        foreach (byte octet in head)
        {
            if (octet is < 0x20 and not ((byte)'\t' or (byte)'\n' or (byte)'\r') or 0x7F)
            {
                return false;
            }
        }

        // Only a head that was cut off at the limit may end inside a character.
        int whole = head.Length < HeadLength ? head.Length : Utf8Text.CutLength(head, HeadLength - 4);
        return Utf8.IsValid(head[..whole]);
    }
}
