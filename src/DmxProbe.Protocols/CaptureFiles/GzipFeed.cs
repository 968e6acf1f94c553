namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// What the unpacker reads from: the octets already taken from the stream, then the stream, then, when asked for, an
/// extra piece. Remembers whether the unpacker wanted more than there was.
/// </summary>
/// <param name="head">The octets already taken from the stream.</param>
/// <param name="stream">The rest.</param>
/// <param name="slowFrom">From this octet on, one octet is handed out at a time.</param>
internal sealed class GzipFeed(ReadOnlyMemory<byte> head, Stream stream, long slowFrom = long.MaxValue) : ForwardStream
{
    private ReadOnlyMemory<byte> _next = head;
    private bool _streamEnded;
    private long _handedOut;

    /// <summary>Where the piece handed out last starts.</summary>
    public long LastPiece { get; private set; }

    /// <summary>True once the unpacker asked for octets after the last one.</summary>
    public bool WantedMore { get; private set; }

    /// <summary>Adds octets after the end.</summary>
    public void Append(ReadOnlyMemory<byte> extra) => _next = extra;

    public override int Read(Span<byte> buffer)
    {
        int most = (int)Math.Min(buffer.Length, Math.Max(slowFrom - _handedOut, 1));
        int read = most == 0 ? 0 : ReadAny(buffer[..most]);
        if (read == 0 && buffer.Length > 0)
        {
            _streamEnded = true;
            WantedMore = true;
            return 0;
        }

        LastPiece = _handedOut;
        _handedOut += read;
        return read;
    }

    private int ReadAny(Span<byte> buffer)
    {
        if (_next.IsEmpty)
        {
            return _streamEnded ? 0 : stream.Read(buffer);
        }

        int count = Math.Min(_next.Length, buffer.Length);
        _next.Span[..count].CopyTo(buffer);
        _next = _next[count..];
        return count;
    }
}
