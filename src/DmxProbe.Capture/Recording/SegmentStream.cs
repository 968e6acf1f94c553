using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// The file of a segment, written at its end only. A write that fails leaves the file as it was before it: never half a block.
/// </summary>
internal sealed class SegmentStream : Stream
{
    private const int CopyBlock = 1024 * 1024;

    private SafeFileHandle _file;
    private long _length;

    /// <summary>Makes the file; an existing one is never opened.</summary>
    public SegmentStream(string path) => _file = Create(path);

    public SafeFileHandle Handle => _file;

    public override bool CanRead => false;

    public override bool CanSeek => false;

    public override bool CanWrite => true;

    public override long Length => _length;

    public override long Position { get => _length; set => throw new NotSupportedException(); }

    public override void Write(ReadOnlySpan<byte> buffer)
    {
        try
        {
            RandomAccess.Write(_file, buffer, _length);
        }
        catch (IOException)
        {
            CutBack();
            throw;
        }

        _length += buffer.Length;
    }

    public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

    /// <summary>The file was deleted under us: writes all of it again, from what is still open.</summary>
    public void WriteAgain(string path)
    {
        SafeFileHandle target = Create(path);
        try
        {
            byte[] block = new byte[CopyBlock];
            for (long at = 0; at < _length;)
            {
                int read = RandomAccess.Read(_file, block.AsSpan(0, (int)Math.Min(block.Length, _length - at)), at);
                if (read == 0)
                {
                    throw new EndOfStreamException("the deleted file can no longer be read");
                }

                RandomAccess.Write(target, block.AsSpan(0, read), at);
                at += read;
            }

            RandomAccess.FlushToDisk(target);
        }
        catch (IOException)
        {
            target.Dispose();
            File.Delete(path); // made by us a moment ago
            throw;
        }

        _file.Dispose();
        _file = target;
    }

    public override void Flush()
    {
    }

    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        _file.Dispose();
        base.Dispose(disposing);
    }

    private static SafeFileHandle Create(string path) =>
        File.OpenHandle(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Read | FileShare.Delete);

    private void CutBack()
    {
        try
        {
            RandomAccess.SetLength(_file, _length);
        }
        catch (IOException)
        {
            // The next write starts at the same place; until then a reader sees half a block and says so.
        }
    }
}
