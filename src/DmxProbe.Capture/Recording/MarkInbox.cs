using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Marks on their way into a recording: those asked for in this process, and those that other processes leave in the folder,
/// whose files are deleted once the mark is safe on the disk. Any thread.
/// </summary>
/// <param name="folder">The folder that is recorded into.</param>
/// <param name="now">The computer's clock.</param>
internal sealed class MarkInbox(string folder, Func<Timestamp> now)
{
    private const int MostPending = 1_024;

    private readonly Lock _gate = new();
    private readonly Queue<PendingMark> _marks = new();
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly List<string> _toDelete = [];

    /// <summary>Takes a mark; of more than 1,024 waiting the rest is dropped.</summary>
    /// <param name="text">What happened; cut at 1,024 octets of UTF-8.</param>
    /// <param name="isNotice">True for what the program notes itself.</param>
    public void Add(string text, bool isNotice)
    {
        byte[] octets = Encoding.UTF8.GetBytes(text);
        int length = Math.Min(octets.Length, MarkSpool.LongestMark);
        while (length < octets.Length && length > 0 && (octets[length] & 0xC0) == 0x80)
        {
            length--;
        }

        lock (_gate)
        {
            if (_marks.Count < MostPending)
            {
                _marks.Enqueue(new PendingMark(octets[..length], now(), isNotice, null));
            }
        }
    }

    /// <summary>The next mark that waits to go into the recording.</summary>
    public bool TryTake(out PendingMark? mark)
    {
        lock (_gate)
        {
            return _marks.TryDequeue(out mark);
        }
    }

    /// <summary>Looks for marks that were left in the folder.</summary>
    public void Look()
    {
        try
        {
            foreach (PendingMark mark in MarkSpool.Find(folder, _known))
            {
                lock (_gate)
                {
                    if (_marks.Count >= MostPending)
                    {
                        return;
                    }

                    _known.Add(mark.SpoolFile!);
                    // A time that has not come yet is nobody's.
                    Timestamp present = now();
                    _marks.Enqueue(mark.Time > present ? mark with { Time = present } : mark);
                }
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // The folder is gone or closed; the recorder says so.
        }
    }

    /// <summary>A mark that was left here is written: its file goes once that is safe on the disk.</summary>
    public void Written(string file)
    {
        lock (_gate)
        {
            _toDelete.Add(file);
        }
    }

    /// <summary>The files of the marks written so far, to be asked before what was written is handed over.</summary>
    public IReadOnlyList<string> WrittenFiles()
    {
        lock (_gate)
        {
            return [.. _toDelete];
        }
    }

    /// <summary>Marks that are safe: their files go.</summary>
    public void Delete(IReadOnlyList<string> safe)
    {
        if (safe.Count == 0)
        {
            return;
        }

        lock (_gate)
        {
            _toDelete.RemoveAll(safe.Contains);
        }

        foreach (string path in safe)
        {
            try
            {
                File.Delete(path);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // It stays, and the set of known names keeps this run from taking it in again.
            }
        }
    }
}
