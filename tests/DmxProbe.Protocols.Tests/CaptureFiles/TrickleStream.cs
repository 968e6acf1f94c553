namespace DmxProbe.Protocols.Tests.CaptureFiles;

/// <summary>A stream like a pipe: cannot seek, gives at most some octets at a time, may fail at its end.</summary>
internal sealed class TrickleStream(byte[] bytes, int most, IOException? failure = null) : Stream
{
    public int HandedOut { get; private set; }

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override int Read(byte[] buffer, int offset, int count)
    {
        int taken = Math.Min(Math.Min(count, most), bytes.Length - HandedOut);
        if (taken == 0 && count > 0 && failure is not null)
        {
            throw failure;
        }

        bytes.AsSpan(HandedOut, taken).CopyTo(buffer.AsSpan(offset));
        HandedOut += taken;
        return taken;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
