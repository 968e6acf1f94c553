using DmxProbe.Protocols.Records;
using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// The segments of a run, one open at a time: begins and closes them, keeps the list, brings a removed one back. What the
/// disk refuses becomes a standstill. Under the recorder's lock.
/// </summary>
/// <param name="settings">How to record.</param>
/// <param name="list">The list of the run.</param>
/// <param name="ring">Deletes what is too old.</param>
/// <param name="standstill">Where it is told that nothing can be written.</param>
/// <param name="tell">Says what happened to a file.</param>
internal sealed class SegmentRoll(
    RecorderSettings settings, RunList list, RecordingRing ring, Standstill standstill, Action<string, bool, string> tell) : IDisposable
{
    private SegmentWriter? _open;
    private RunSegment? _listed;
    private long _closedOctets;

    /// <summary>Segments begun.</summary>
    public int Count { get; private set; }

    /// <summary>Octets of all of them.</summary>
    public long Octets => _closedOctets + (_open?.Length ?? 0);

    /// <summary>Writes a record, or counts it as lost while nothing can be written.</summary>
    /// <returns>False where it is lost.</returns>
    public bool Record(in CaptureRecord record, CaptureInterface face)
    {
        if (!IsReady(record.Time, mayBeginAnew: record.Kind != RecordKind.Mark))
        {
            standstill.Lose(face, record.LostBefore, record.Kind == RecordKind.Loss ? 0 : 1);
            return false;
        }

        Write(in record, face, record.LostBefore + standstill.Take(face));
        return true;
    }

    /// <summary>Writes what was lost on interfaces that have been silent since.</summary>
    /// <param name="now">The time of the newest record.</param>
    public void WriteLosses(Timestamp now)
    {
        foreach ((CaptureInterface face, long lost) in standstill.Open)
        {
            if (IsReady(now, mayBeginAnew: false))
            {
                CaptureRecord loss = new()
                {
                    Number = 0,
                    Time = now,
                    Kind = RecordKind.Loss,
                    InterfaceId = face.Id,
                    LinkType = face.LinkType,
                };
                standstill.Take(face);
                Write(in loss, face, lost);
            }
        }
    }

    /// <summary>Hands what is written to the operating system.</summary>
    /// <returns>The file, to be flushed to the disk outside the lock; null where nothing is open or it cannot be written.</returns>
    public SafeFileHandle? HandOver()
    {
        if (standstill.Why is not null || _open is null)
        {
            return null;
        }

        try
        {
            _open.HandOver();
            return _open.Stream.Handle;
        }
        catch (IOException failure)
        {
            standstill.Begin(failure.Message);
            return null;
        }
    }

    /// <summary>Closes the open segment with its index; it stays open where the disk refuses.</summary>
    public void Close()
    {
        if (_open is null)
        {
            return;
        }

        try
        {
            _open.HandOver();
            RandomAccess.FlushToDisk(_open.Stream.Handle);
        }
        catch (IOException failure)
        {
            standstill.Begin(failure.Message);
            return;
        }

        _listed!.Octets = _open.Stream.Length;
        _listed.ClosedAt = settings.Clock.GetTimestamp();
        _closedOctets += _open.Stream.Length;
        try
        {
            _open.Index().Save(_open.Path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // An index only saves time; it is made again by whoever opens the folder.
        }

        _open.Dispose();
        _open = null;
        ring.Prune();
    }

    /// <summary>Where the open segment was removed, writes it again from the open file.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written.</exception>
    public void Rescue()
    {
        if (_open is null || File.Exists(_open.Path))
        {
            return;
        }

        Directory.CreateDirectory(settings.Folder);
        _open.Stream.WriteAgain(_open.Path);
        SaveList();
        tell(
            "segment-removed",
            true,
            $"{_open.Path} was removed while it was being recorded: it was written again from the open file, and recording goes on; segments closed before it may be gone");
    }

    /// <summary>Sees whether it can be written again.</summary>
    /// <exception cref="IOException">It cannot.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not.</exception>
    public void GoOn()
    {
        if (_open is not null)
        {
            Rescue();
            _open.HandOver();
        }
        else
        {
            Directory.CreateDirectory(settings.Folder);
        }
    }

    /// <summary>Saves the list of the run, if that can be done.</summary>
    public void SaveList()
    {
        try
        {
            list.Save();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Segments are found without the list; the ring deletes nothing that is not on it.
        }
    }

    public void Dispose() => _open?.Dispose();

    // A mark keeps the time at which it was made, which may be long ago: it begins no segment of its own.
    private bool IsReady(Timestamp time, bool mayBeginAnew)
    {
        if (standstill.Why is null && mayBeginAnew && _open is { First: Timestamp first } && IsDue(first, time))
        {
            Close();
        }

        return standstill.Why is null && (_open is not null || TryOpen(time));
    }

    private void Write(in CaptureRecord record, CaptureInterface face, long lost)
    {
        try
        {
            _open!.Write(in record, face, lost);
        }
        catch (IOException failure)
        {
            // The record is in the segment's buffer and goes out first when there is room again.
            standstill.Begin(failure.Message);
        }
    }

    private bool IsDue(Timestamp first, Timestamp time)
    {
        Duration age = time - first;
        return (settings.SegmentTime is Duration most && (age >= most || Duration.Zero - age >= most))
            || (settings.SegmentSize is long size && _open!.Length >= size);
    }

    private bool TryOpen(Timestamp time)
    {
        try
        {
            string path = RunFolder.FreeSegmentPath(settings.Folder, time);
            _open = Begin(path);
            _listed = new RunSegment(Path.GetFileName(path));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            standstill.Begin(failure.Message);
            return false;
        }

        Count++;
        ring.Began(_listed);
        list.Segments.Add(_listed);
        SaveList();
        return true;
    }

    // Hands the section header over at once, so that a file is a capture from its first moment.
    private SegmentWriter Begin(string path)
    {
        SegmentWriter segment = new(path, settings.Application);
        try
        {
            segment.HandOver();
            return segment;
        }
        catch (IOException)
        {
            segment.Dispose();
            File.Delete(path); // made a moment ago, and empty
            throw;
        }
    }
}
