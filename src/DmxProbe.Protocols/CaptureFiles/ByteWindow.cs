namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The part of a stream that is in memory. Reads blocks of 256 KiB; records are views into it. Grows only for one
/// record longer than the buffer, and never shrinks.
/// </summary>
internal sealed class ByteWindow(Stream stream) : IDisposable
{
    private const int BlockSize = 256 * 1024;

    private byte[] _bytes = new byte[BlockSize + (64 * 1024)];
    private int _start;
    private int _end;
    private long _origin;
    private bool _ended;

    /// <summary>Octets in memory and not yet taken.</summary>
    public int Available => _end - _start;

    /// <summary>Offset in the stream of the next octet.</summary>
    public long Position => _origin + _start;

    /// <summary>Why the stream could not be read to its end, or null.</summary>
    public Exception? Failure { get; private set; }

    /// <summary>The next <paramref name="count"/> octets, which must be available.</summary>
    public ReadOnlySpan<byte> Peek(int count) => _bytes.AsSpan(_start, count);

    /// <summary>Steps over octets that are available.</summary>
    public void Skip(int count) => _start += count;

    /// <summary>Makes <paramref name="count"/> octets available.</summary>
    /// <returns>False when the stream ends or fails before.</returns>
    public bool Has(int count) => _end - _start >= count || Fill(count);

    /// <summary>Lets nothing more be read.</summary>
    public void Close()
    {
        _ended = true;
        _start = _end;
    }

    public void Dispose() => stream.Dispose();

    private bool Fill(int count)
    {
        if (_ended)
        {
            return false;
        }

        MakeRoom(count);
        while (_end < count && !_ended)
        {
            _end += ReadBlock();
        }

        return _end >= count;
    }

    private void MakeRoom(int count)
    {
        byte[] old = _bytes;
        if (count > _bytes.Length)
        {
            _bytes = new byte[Math.Max(count, Math.Min(2 * old.Length, PcapngFormat.LongestBlock))];
        }

        old.AsSpan(_start, _end - _start).CopyTo(_bytes);
        _origin += _start;
        _end -= _start;
        _start = 0;
    }

    private int ReadBlock()
    {
        try
        {
            int read = stream.Read(_bytes, _end, Math.Min(BlockSize, _bytes.Length - _end));
            _ended = read == 0;
            return read;
        }
        catch (Exception failure) when (failure is IOException or InvalidDataException or UnauthorizedAccessException)
        {
            _ended = true;
            Failure = failure;
            return 0;
        }
    }
}
