namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// What the unpacker reads from: the octets already taken from the stream, then the stream, then, when asked for, an
/// extra piece. Remembers whether the unpacker wanted more than there was.
/// </summary>
internal sealed class GzipFeed(ReadOnlyMemory<byte> head, Stream stream) : ForwardStream
{
    private ReadOnlyMemory<byte> _next = head;
    private bool _streamEnded;

    /// <summary>True once the unpacker asked for octets after the last one.</summary>
    public bool WantedMore { get; private set; }

    /// <summary>Adds octets after the end.</summary>
    public void Append(ReadOnlyMemory<byte> extra) => _next = extra;

    public override int Read(Span<byte> buffer)
    {
        if (_next.Length > 0)
        {
            int count = Math.Min(_next.Length, buffer.Length);
            _next.Span[..count].CopyTo(buffer);
            _next = _next[count..];
            return count;
        }

        int read = _streamEnded ? 0 : stream.Read(buffer);
        if (read == 0 && buffer.Length > 0)
        {
            _streamEnded = true;
            WantedMore = true;
        }

        return read;
    }
}
