using System.IO.Compression;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// Unpacks gzip (RFC 1952, one or several members) and tells a file that was cut from one that ended.
/// <see cref="Read(Span{byte})"/> gives every octet before the damage and then throws: <see cref="EndOfStreamException"/>
/// for a cut file, <see cref="InvalidDataException"/> for damaged data.
/// </summary>
/// <remarks>
/// The library's unpacker takes a cut for the end and says nothing. So at the end it is offered one more gzip member:
/// only an unpacker that stands between two members gives that member's content back.
/// </remarks>
internal sealed class GzipInput : ForwardStream
{
    // What an unpacker drops when it meets damage is at most one read; where the input cannot be read twice, keep that small.
    private const int StepWithoutSeek = 1024;

    private static readonly byte[] Probe = "between two members"u8.ToArray();
    private static readonly byte[] PackedProbe = Pack(Probe);

    private readonly Stream _stream;
    private readonly byte[] _head;
    private readonly long _start;
    private GzipFeed _feed;
    private GZipStream _unpacker;
    private long _delivered;
    private int _step;

    /// <summary>Takes over the stream.</summary>
    /// <param name="head">The octets already read from the stream.</param>
    /// <param name="stream">The rest.</param>
    public GzipInput(byte[] head, Stream stream)
    {
        _stream = stream;
        _head = head;
        _start = stream.CanSeek ? stream.Position : -1;
        _step = stream.CanSeek ? int.MaxValue : StepWithoutSeek;
        _feed = new GzipFeed(head, stream);
        _unpacker = new GZipStream(_feed, CompressionMode.Decompress);
    }

    public override int Read(Span<byte> buffer)
    {
        int read;
        try
        {
            read = _unpacker.Read(buffer[..Math.Min(buffer.Length, _step)]);
        }
        catch (InvalidDataException) when (_step > 1 && _start >= 0)
        {
            // The unpacker threw away what it had unpacked in this call: go back and take the rest octet by octet.
            Restart();
            _step = 1;
            return Read(buffer);
        }

        _delivered += read;
        if (read == 0 && buffer.Length > 0 && _feed.WantedMore && !StandsBetweenMembers())
        {
            throw new EndOfStreamException();
        }

        return read;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _unpacker.Dispose();
            _stream.Dispose();
        }

        base.Dispose(disposing);
    }

    private static byte[] Pack(byte[] content)
    {
        using MemoryStream packed = new();
        using (GZipStream packer = new(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            packer.Write(content);
        }

        return packed.ToArray();
    }

    private bool StandsBetweenMembers()
    {
        _feed.Append(PackedProbe);
        Span<byte> answer = stackalloc byte[Probe.Length + 1];
        try
        {
            return _unpacker.ReadAtLeast(answer, answer.Length, throwOnEndOfStream: false) == Probe.Length
                && answer[..Probe.Length].SequenceEqual(Probe);
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }

    private void Restart()
    {
        _unpacker.Dispose();
        _stream.Position = _start;
        _feed = new GzipFeed(_head, _stream);
        _unpacker = new GZipStream(_feed, CompressionMode.Decompress);
        Span<byte> scratch = stackalloc byte[4096];
        long left = _delivered;
        while (left > 0)
        {
            int read = _unpacker.Read(scratch[..(int)Math.Min(left, scratch.Length)]);
            if (read == 0)
            {
                break;
            }

            left -= read;
        }
    }
}
