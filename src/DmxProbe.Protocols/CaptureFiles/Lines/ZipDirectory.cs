using System.Buffers.Binary;
using System.Text;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// The members of a zip archive: from its directory, or, where that is missing because the archive was cut, from the
/// headers before the members. The library's reader gives nothing of a cut archive and holds one that comes by a pipe in
/// memory, so the list is read here; what a member holds is unpacked by the library.
/// </summary>
internal sealed class ZipDirectory
{
    /// <summary>Most members: an hour of 24 MHz samples in pieces of 4 MB has 21,600.</summary>
    public const int MostMembers = 65_535;

    private const int LocalHeader = 30;
    private const int CentralHeader = 46;
    private const int EndRecord = 22;
    private const int LongestComment = 65_535;
    private const int LargestDirectory = 16 * 1024 * 1024;
    private const int LongestName = 255;

    private readonly Stream _stream;
    private readonly long _base;
    private readonly long _length;
    private readonly List<ZipMember> _members = [];

    private ZipDirectory(Stream stream, long start)
    {
        _stream = stream;
        _base = start;
        _length = stream.Length - start;
    }

    /// <summary>The members in the order of the archive.</summary>
    public IReadOnlyList<ZipMember> Members => _members;

    /// <summary>False where the directory is missing or damaged, so that the members were found one after another.</summary>
    public bool IsWhole { get; private set; }

    /// <summary>Lists the members.</summary>
    /// <param name="stream">Can seek; is left anywhere.</param>
    /// <param name="start">Where in the stream the archive starts.</param>
    /// <exception cref="IOException">The stream cannot be read.</exception>
    public static ZipDirectory Read(Stream stream, long start)
    {
        ZipDirectory directory = new(stream, start);
        directory.IsWhole = directory.ReadCentral() && !directory.Overlaps();
        if (!directory.IsWhole)
        {
            directory._members.Clear();
            directory.WalkHeaders();
        }

        return directory;
    }

    /// <summary>Where in the stream the content of a member starts, or -1 where its header is none.</summary>
    public long ContentAt(ZipMember member)
    {
        Span<byte> header = stackalloc byte[LocalHeader];
        return ReadAt(member.HeaderAt, header) && header.StartsWith("PK\x03\x04"u8)
            ? _base + member.HeaderAt + LocalHeader + U16(header[26..]) + U16(header[28..])
            : -1;
    }

    private bool ReadCentral()
    {
        byte[] tail = new byte[(int)Math.Min(_length, EndRecord + LongestComment)];
        if (!ReadAt(_length - tail.Length, tail))
        {
            return false;
        }

        int at = tail.AsSpan().LastIndexOf("PK\x05\x06"u8);
        if (at < 0 || tail.Length - at < EndRecord)
        {
            return false;
        }

        ReadOnlySpan<byte> end = tail.AsSpan(at);
        long count = U16(end[10..]);
        long size = U32(end[12..]);
        long offset = U32(end[16..]);
        if (count == ushort.MaxValue || size == uint.MaxValue || offset == uint.MaxValue)
        {
            Span<byte> locator = stackalloc byte[20];
            Span<byte> wide = stackalloc byte[56];
            if (!ReadAt(_length - tail.Length + at - locator.Length, locator) || !locator.StartsWith("PK\x06\x07"u8)
                || !ReadAt(I64(locator[8..]), wide) || !wide.StartsWith("PK\x06\x06"u8))
            {
                return false;
            }

            count = I64(wide[32..]);
            size = I64(wide[40..]);
            offset = I64(wide[48..]);
        }

        if (count is < 0 or > MostMembers || size is < 0 or > LargestDirectory || offset < 0 || offset > _length - size)
        {
            return false;
        }

        byte[] entries = new byte[(int)size];
        return ReadAt(offset, entries) && ReadEntries(entries, count);
    }

    private bool ReadEntries(ReadOnlySpan<byte> entries, long count)
    {
        for (long i = 0; i < count; i++)
        {
            if (entries.Length < CentralHeader || !entries.StartsWith("PK\x01\x02"u8))
            {
                return false;
            }

            int nameLength = U16(entries[28..]);
            int extraLength = U16(entries[30..]);
            int length = CentralHeader + nameLength + extraLength + U16(entries[32..]);
            if (length > entries.Length)
            {
                return false;
            }

            ReadOnlySpan<byte> extra = entries.Slice(CentralHeader + nameLength, extraLength);
            long size = U32(entries[24..]);
            long packed = U32(entries[20..]);
            long header = U32(entries[42..]);
            Widen(extra, ref size, ref packed, ref header);
            if (size < 0 || packed < 0 || header < 0 || header > _length - LocalHeader || packed > _length - LocalHeader - header)
            {
                return false;
            }

            _members.Add(new ZipMember(
                Name(entries.Slice(CentralHeader, nameLength)),
                header,
                U16(entries[10..]),
                (U16(entries[8..]) & 1) != 0,
                U32(entries[16..]),
                packed,
                size));
            entries = entries[length..];
        }

        return true;
    }

    // Zip64: fields that did not fit, in this order, only those that did not.
    private static void Widen(ReadOnlySpan<byte> extra, ref long size, ref long packed, ref long header)
    {
        while (extra.Length >= 4)
        {
            int length = Math.Min(U16(extra[2..]), extra.Length - 4);
            if (U16(extra) == 1)
            {
                ReadOnlySpan<byte> wide = extra.Slice(4, length);
                Take(ref wide, ref size);
                Take(ref wide, ref packed);
                Take(ref wide, ref header);
                return;
            }

            extra = extra[(4 + length)..];
        }
    }

    private static void Take(ref ReadOnlySpan<byte> wide, ref long field)
    {
        if (field == uint.MaxValue && wide.Length >= sizeof(long))
        {
            field = I64(wide);
            wide = wide[sizeof(long)..];
        }
    }

    // Members that share octets are how a small archive is made to hold a world of data.
    private bool Overlaps()
    {
        long free = 0;
        foreach (ZipMember member in _members.OrderBy(member => member.HeaderAt))
        {
            if (member.HeaderAt < free)
            {
                return true;
            }

            free = member.HeaderAt + LocalHeader + member.Packed;
        }

        return false;
    }

    private void WalkHeaders()
    {
        byte[] header = new byte[LocalHeader];
        byte[] name = new byte[LongestName];
        long at = 0;
        while (_members.Count < MostMembers && ReadAt(at, header) && header.AsSpan().StartsWith("PK\x03\x04"u8))
        {
            Span<byte> text = name.AsSpan(0, Math.Min(LongestName, U16(header.AsSpan(26))));
            long content = at + LocalHeader + U16(header.AsSpan(26)) + U16(header.AsSpan(28));
            if (content > _length || !ReadAt(at + LocalHeader, text))
            {
                return;
            }

            int flags = U16(header.AsSpan(6));
            ZipMember member = new(
                Name(text), at, U16(header.AsSpan(8)), (flags & 1) != 0, U32(header.AsSpan(14)), U32(header.AsSpan(18)), U32(header.AsSpan(22)));
            long next = content + member.Packed;
            if ((flags & 8) != 0 && member.Packed == 0)
            {
                (member, next) = FindDescriptor(member, content);
            }

            if (next > _length)
            {
                member = member with { Packed = _length - content, IsWhole = false };
            }

            _members.Add(member);
            at = next;
        }
    }

    // Written without going back: checksum and lengths follow the content, after a signature.
    private (ZipMember Member, long Next) FindDescriptor(ZipMember member, long content)
    {
        byte[] block = new byte[64 * 1024];
        const int Descriptor = 16;
        for (long at = content; at <= _length - Descriptor; at += block.Length - Descriptor)
        {
            Span<byte> octets = block.AsSpan(0, (int)Math.Min(block.Length, _length - at));
            if (!ReadAt(at, octets))
            {
                break;
            }

            for (int from = 0; octets[from..].IndexOf("PK\x07\x08"u8) is int found and >= 0;)
            {
                from += found;
                if (octets.Length - from < Descriptor)
                {
                    break;
                }

                if (U32(octets[(from + 8)..]) == at + from - content)
                {
                    return (
                        member with { Checksum = U32(octets[(from + 4)..]), Packed = at + from - content, Size = U32(octets[(from + 12)..]) },
                        at + from + Descriptor);
                }

                from += 4;
            }
        }

        return (member, long.MaxValue);
    }

    private bool ReadAt(long offset, Span<byte> target)
    {
        if (offset < 0 || offset > _length - target.Length)
        {
            return false;
        }

        _stream.Position = _base + offset;
        return _stream.ReadAtLeast(target, target.Length, throwOnEndOfStream: false) == target.Length;
    }

    private static string Name(ReadOnlySpan<byte> octets) => Encoding.UTF8.GetString(octets[..Math.Min(octets.Length, LongestName)]);

    private static int U16(ReadOnlySpan<byte> octets) => BinaryPrimitives.ReadUInt16LittleEndian(octets);

    private static uint U32(ReadOnlySpan<byte> octets) => BinaryPrimitives.ReadUInt32LittleEndian(octets);

    private static long I64(ReadOnlySpan<byte> octets) => BinaryPrimitives.ReadInt64LittleEndian(octets);
}
