using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>What going to a mark has in common in all formats.</summary>
internal static class CaptureMark
{
    /// <summary>Refuses what cannot be gone to.</summary>
    /// <exception cref="ArgumentException">The mark is of another kind of file.</exception>
    /// <exception cref="NotSupportedException">The input cannot be read at any place.</exception>
    public static void Check(ByteWindow window, CapturePosition position, bool isOfThisKind)
    {
        if (!window.CanSeek)
        {
            throw new NotSupportedException("a packed file or a pipe can only be read from front to end");
        }

        if (!isOfThisKind)
        {
            throw new ArgumentException($"the mark at byte {position.Offset} is not of a file of this kind", nameof(position));
        }
    }

    /// <summary>Checks that something stands at the mark: a file may have become shorter since.</summary>
    /// <returns>What is wrong, or null; then nothing more can be read.</returns>
    public static InputProblem? Missing(ByteWindow window, CaptureDamage damage, long recordsBefore)
    {
        if (window.Has(1))
        {
            return null;
        }

        InputProblem missing = window.Failure is not null
            ? damage.Unreadable(window, recordsBefore)
            : damage.Wrong(
                "the file has become shorter since it was first read",
                window.Position,
                "record " + CaptureDamage.Number(recordsBefore + 1),
                "the end of the file",
                recordsBefore);
        window.Close();
        return missing;
    }
}
