using System.Buffers.Binary;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// The packed content of a zip member as the rest of a gzip member: its octets, then checksum and length (RFC 1952). So
/// the unpacker checks both, and tells a cut member from a whole one.
/// </summary>
internal sealed class ZipMemberFeed : Stream
{
    /// <summary>The gzip header that goes before it.</summary>
    public static readonly byte[] GzipHeader = [0x1F, 0x8B, 8, 0, 0, 0, 0, 0, 0, 0xFF];

    private readonly Stream _archive;
    private readonly long _start;
    private readonly long _packed;
    private readonly byte[] _trailer;
    private long _at;

    /// <summary>Reads a member.</summary>
    /// <param name="archive">The archive; stays open.</param>
    /// <param name="start">Where in it the content starts.</param>
    /// <param name="member">The member.</param>
    public ZipMemberFeed(Stream archive, long start, ZipMember member)
    {
        _archive = archive;
        _start = start;
        _packed = member.Packed;
        bool hasTrailer = member.IsWhole && member.Method == ZipMember.Deflated;
        _trailer = hasTrailer ? new byte[8] : [];
        if (hasTrailer)
        {
            BinaryPrimitives.WriteUInt32LittleEndian(_trailer, member.Checksum);
            BinaryPrimitives.WriteUInt32LittleEndian(_trailer.AsSpan(4), unchecked((uint)member.Size));
        }
    }

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    public override long Length => _packed + _trailer.Length;

    public override long Position
    {
        get => _at;
        set => _at = value;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        int read;
        if (_at < _packed)
        {
            _archive.Position = _start + _at;
            read = _archive.Read(buffer[..(int)Math.Min(buffer.Length, _packed - _at)]);
        }
        else
        {
            ReadOnlySpan<byte> left = _trailer.AsSpan((int)Math.Min(_at - _packed, _trailer.Length));
            read = Math.Min(left.Length, buffer.Length);
            left[..read].CopyTo(buffer);
        }

        _at += read;
        return read;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
