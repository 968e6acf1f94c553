using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>The sample members of a session one after another, unpacked as they are read.</summary>
/// <param name="archive">The archive; closed with this stream.</param>
/// <param name="directory">Its members.</param>
/// <param name="pieces">Those that hold samples, in order.</param>
/// <param name="after">What is wrong after the last of them, or null: what, expected, found.</param>
internal sealed class SessionStream(
    Stream archive, ZipDirectory directory, IReadOnlyList<ZipMember> pieces, (string What, string Expected, string Found)? after)
    : ForwardStream
{
    private Stream? _piece;
    private int _next;
    private long _delivered; // of the piece being read
    private Exception? _failure;

    public override int Read(Span<byte> buffer)
    {
        while (_piece is not null || _next < pieces.Count)
        {
            try
            {
                _piece ??= Open(pieces[_next++]);
                int read = _piece.Read(buffer);
                _delivered += read;
                if (read > 0 || buffer.IsEmpty)
                {
                    return read;
                }

                ZipMember ended = pieces[_next - 1];
                if (ended.Method == ZipMember.Stored && (!ended.IsWhole || _delivered != ended.Size))
                {
                    throw new EndOfStreamException();
                }

                ClosePiece();
            }
            catch (Exception failure) when (failure is IOException or InvalidDataException)
            {
                _failure = failure;
                ClosePiece();
                _next = pieces.Count;
                throw;
            }
        }

        return 0;
    }

    /// <summary>What is wrong with the archive, once it was read to its end; null for nothing.</summary>
    /// <param name="damage">Builds the sentence.</param>
    /// <param name="samples">Samples read.</param>
    public InputProblem? Damage(LineDamage damage, long samples)
    {
        if (_failure is null)
        {
            return after is var (what, expected, found) ? damage.At(what, "", expected, found, samples) : null;
        }

        string where = "octet " + CaptureDamage.Number(_delivered) + " of its samples";
        return _failure switch
        {
            EndOfStreamException => damage.At("the session zip is cut short", where, "more packed data", "the end of the file", samples),
            InvalidDataException => damage.At(
                "the session zip is damaged", where, "packed data with a right checksum", "data that cannot be unpacked", samples),
            _ => damage.At("the input could not be read further", where, "", _failure.Message, samples),
        };
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            ClosePiece();
            archive.Dispose();
        }

        base.Dispose(disposing);
    }

    private Stream Open(ZipMember member)
    {
        _delivered = 0;
        long start = directory.ContentAt(member);
        if (start < 0)
        {
            throw new InvalidDataException();
        }

        ZipMemberFeed feed = new(archive, start, member);
        return member.Method == ZipMember.Stored ? feed : new GzipInput(ZipMemberFeed.GzipHeader, feed);
    }

    private void ClosePiece()
    {
        _piece?.Dispose();
        _piece = null;
    }
}
