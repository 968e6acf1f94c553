namespace DmxProbe.Protocols.Records;

/// <summary>
/// A source that can go back to a record it has read, and forth again. Capture files offer it; it only works where
/// the file can be read at any place: not packed, not from a pipe.
/// </summary>
public interface ISeekableSource : ICaptureSource
{
    /// <summary>
    /// Marks the record last read. Allocates nothing unless interfaces or loss counts changed since the mark before.
    /// </summary>
    /// <param name="position">Where that record is; valid for this source and every other one of the same file.</param>
    /// <returns>
    /// False where no record was read yet, after the end, where the input cannot be read at any place, and in a section
    /// of more than 1,024 interfaces.
    /// </returns>
    bool TryMark(out CapturePosition position);

    /// <summary>
    /// Goes to a marked record: the next <see cref="ICaptureSource.Read"/> gives exactly that record, with the number and
    /// time it had, and reading goes on from there. <see cref="ICaptureSource.Problem"/> is forgotten and
    /// <see cref="ICaptureSource.Interfaces"/> holds at least what was known at the mark; entries keep their numbers.
    /// </summary>
    /// <param name="position">A mark of the same file. Of another file of that format, what comes is undefined but ends.</param>
    /// <exception cref="ArgumentException">The mark is not of this kind of file, or is none.</exception>
    /// <exception cref="NotSupportedException">The input cannot be read at any place.</exception>
    void Seek(CapturePosition position);
}
