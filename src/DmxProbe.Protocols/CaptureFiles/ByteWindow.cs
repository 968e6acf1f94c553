using System.Runtime.InteropServices;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The part of a stream that is in memory. Reads blocks of 512 KiB; records are views into it. Grows only for one
/// record longer than the buffer, and never shrinks.
/// </summary>
internal sealed class ByteWindow : IDisposable
{
    private const int BlockSize = 512 * 1024;

    // Room before a block for what is left of the one before it, usually less than a record.
    private const int LeftRoom = 64 * 1024;

    // The kernel copies a block four times slower when the target's place in its page is a few octets after the
    // source's: the processor takes its own stores for the loads that follow. So blocks are placed clear of that.
    private const int Page = 4096;
    private const int ClearOfSource = 256;

    private readonly Stream _stream;
    private readonly long _base;
    private byte[] _bytes = GC.AllocateUninitializedArray<byte>(LeftRoom + (2 * Page) + BlockSize, pinned: true);
    private readonly int _blockAt;
    private int _oldest; // the octets from here to _end are those of the stream
    private int _start;
    private int _end;
    private long _origin; // offset in the stream of _bytes[0]; negative at first
    private bool _ended;

    /// <summary>Reads a stream from where it stands.</summary>
    public ByteWindow(Stream stream)
    {
        _stream = stream;
        CanSeek = stream.CanSeek;
        _base = CanSeek ? stream.Position : 0;
        long address = Marshal.UnsafeAddrOfPinnedArrayElement(_bytes, LeftRoom);
        _blockAt = LeftRoom + (int)((ClearOfSource - address) & (Page - 1));
        Forget(0);
    }

    /// <summary>Whether <see cref="Seek"/> works.</summary>
    public bool CanSeek { get; }

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

    /// <summary>Goes to an offset in the stream; what was closed or failed can be read again.</summary>
    public void Seek(long position)
    {
        long index = position - _origin;
        if (index >= _oldest && index <= _end)
        {
            _start = (int)index;
        }
        else
        {
            Forget(position);
        }

        _stream.Position = _base + _origin + _end;
        _ended = false;
        Failure = null;
    }

    public void Dispose() => _stream.Dispose();

    private void Forget(long position)
    {
        _oldest = _blockAt;
        _start = _blockAt;
        _end = _blockAt;
        _origin = position - _blockAt;
    }

    private bool Fill(int count)
    {
        if (_ended)
        {
            return false;
        }

        MakeRoom(count);
        while (_end - _start < count && !_ended)
        {
            _end += ReadBlock();
        }

        return _end - _start >= count;
    }

    private void MakeRoom(int count)
    {
        int left = _end - _start;
        int blockAt = _blockAt + (int)((_base + _origin + _end) & (Page - 1));
        if (left <= blockAt && count - left <= _bytes.Length - blockAt)
        {
            Move(_bytes, blockAt - left);
            return;
        }

        byte[] target = count <= _bytes.Length
            ? _bytes
            : GC.AllocateUninitializedArray<byte>(Math.Max(count, Math.Min(2 * _bytes.Length, PcapngFormat.LongestBlock)));
        Move(target, 0);
    }

    private void Move(byte[] target, int start)
    {
        int left = _end - _start;
        _bytes.AsSpan(_start, left).CopyTo(target.AsSpan(start));
        _bytes = target;
        _origin += _start - start;
        _oldest = start;
        _start = start;
        _end = start + left;
    }

    private int ReadBlock()
    {
        try
        {
            int read = _stream.Read(_bytes, _end, Math.Min(BlockSize, _bytes.Length - _end));
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
