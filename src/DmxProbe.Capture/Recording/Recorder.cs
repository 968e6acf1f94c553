using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Writes records into segments in a folder. What was written is handed to the disk every 250 ms by a thread of its own, so
/// that neither a killed process nor a power cut costs more than the last second, whatever the source does meanwhile.
/// </summary>
/// <remarks>
/// Never overwrites a file. The ring deletes only segments that this run made, that stand on its list, and that still have
/// the length they were closed with. While nothing can be written the recorder counts what it could not record, tries again
/// every second, and writes the count into the recording as its own loss once it can.
/// </remarks>
public sealed class Recorder : IDisposable
{
    private static readonly long LookEvery = TimeSpan.FromSeconds(1).Ticks;
    private const double MostSavedAfterSeconds = 60;
    private const int NoRoomUnix = 28; // ENOSPC
    private const int NoRoomWindows = 112; // ERROR_DISK_FULL
    private const int MostPending = 1_024;
    private const int MostNames = 1_000;

    private readonly RecorderSettings _settings;
    private readonly Lock _gate = new();
    private readonly Lock _telling = new();
    private readonly ManualResetEventSlim _ending = new();
    private readonly Thread _tender;
    private readonly string _runName;
    private readonly RunList _list;
    private readonly Queue<PendingMark> _marks = new();
    private readonly HashSet<string> _spooled = new(StringComparer.Ordinal);
    private readonly List<string> _spoolToDelete = [];
    private readonly Dictionary<int, (CaptureInterface Face, long Lost)> _lost = [];
    private readonly DiskWatch _disk;
    private readonly RateMeter _rate;

    private SegmentWriter? _segment;
    private RunSegment? _listed;
    private string? _heldUp; // why nothing can be written
    private bool _isTold;
    private Timestamp _newest = Timestamp.MinValue;
    private long _savedAt; // by the clock that nobody sets; 0 = never
    private string _savedFor = "";
    private long _records;
    private long _marksWritten;
    private long _closedOctets;
    private int _segments;
    private long _lostBySource;
    private long _notRecorded;
    private long _nextLook;
    private long _safeSince;
    private long _longestAtRisk;
    private bool _isFinished;

    /// <summary>Makes the folder where there is none, starts the list of the run, and says how much room there is.</summary>
    /// <exception cref="InputException">The folder cannot be made or written to: nothing is recorded.</exception>
    public Recorder(RecorderSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _settings = settings;
        Timestamp started = Now();
        try
        {
            MakeFolder(settings.Folder);
            _runName = FreeRunName(started);
            _list = new RunList(Path.Combine(settings.Folder, _runName + RunList.Suffix), settings, started);
            _list.Save();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw Refused(settings.Folder, failure);
        }

        _disk = new DiskWatch(settings, Tell);
        _rate = new RateMeter(settings.Clock);
        _safeSince = settings.Clock.GetTimestamp();
        _disk.Look(0, settings.Ring is not null);
        FindSpooled(); // marks left while nothing recorded
        _tender = new Thread(Tend) { IsBackground = true, Name = "recorder" };
        _tender.Start();
    }

    /// <summary>Makes a folder where there is none and sees whether it can be written to, so that nothing is begun for nothing.</summary>
    /// <param name="folder">The folder.</param>
    /// <exception cref="InputException">It cannot be made or written to.</exception>
    public static void MakeFolder(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            string trial = Path.Combine(folder, $".trial-{Guid.NewGuid():N}");
            new FileStream(trial, FileMode.CreateNew).Dispose();
            File.Delete(trial);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw Refused(folder, failure);
        }
    }

    /// <summary>Counts and rates up to now.</summary>
    public RecorderStatus Status
    {
        get
        {
            lock (_gate)
            {
                return new RecorderStatus
                {
                    Records = _records,
                    Marks = _marksWritten,
                    Octets = _closedOctets + (_segment?.Length ?? 0),
                    Segments = _segments,
                    Deleted = _list.Deleted,
                    LostBySource = _lostBySource,
                    NotRecorded = _notRecorded,
                    RecordsPerSecond = _rate.RecordsPerSecond,
                    OctetsPerSecond = _rate.OctetsPerSecond,
                    Free = _disk.Free,
                    Left = _disk.Left(_rate.OctetsPerSecond),
                    IsHeldUp = _heldUp is not null,
                    LongestAtRisk = Duration.FromNanoseconds((long)_settings.Clock.GetElapsedTime(0, _longestAtRisk).TotalNanoseconds),
                };
            }
        }
    }

    /// <summary>Asks for a mark in the recording, now. Any thread; of more than 1,024 waiting the rest is dropped.</summary>
    /// <param name="text">What happened; cut at 1,024 octets of UTF-8.</param>
    /// <param name="isNotice">True for what the program notes itself: a clock that was set, an interface that went.</param>
    public void Mark(string text, bool isNotice = false)
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
                _marks.Enqueue(new PendingMark(octets[..length], Now(), isNotice, null));
            }
        }
    }

    /// <summary>
    /// Ring: keeps what it holds now, and the minute to come (less where the ring is shorter). Without a ring everything is
    /// kept anyway.
    /// </summary>
    /// <param name="reason">Why, for the list of the run.</param>
    public void Save(string reason)
    {
        lock (_gate)
        {
            SaveLocked(reason);
        }
    }

    /// <summary>Writes a record.</summary>
    /// <param name="record">The record.</param>
    /// <param name="face">Its interface; the same number always stands for the same interface.</param>
    public void Write(in CaptureRecord record, CaptureInterface face)
    {
        lock (_gate)
        {
            if (_isFinished)
            {
                return;
            }

            _lostBySource += record.LostBefore;
            _newest = record.Time;
            if (_heldUp is not null || !IsSegmentReady(record.Time, record.Kind != RecordKind.Mark))
            {
                Lose(face, record.LostBefore, record.Kind == RecordKind.Loss ? 0 : 1);
                return;
            }

            long lost = record.LostBefore;
            if (_lost.Count > 0 && _lost.Remove(face.Id, out (CaptureInterface Face, long Lost) missing))
            {
                lost += missing.Lost;
            }

            try
            {
                _records++;
                _segment!.Write(in record, face, lost);
            }
            catch (IOException failure)
            {
                // The record is in the segment's buffer and goes out first when there is room again.
                HoldUp(failure.Message);
            }

            _rate.Add(_closedOctets + _segment!.Length, _records);
        }
    }

    /// <summary>Writes what is waiting, closes the segment and the list. Called once; what follows is not recorded.</summary>
    public void Finish()
    {
        _ending.Set();
        _tender.Join();
        lock (_gate)
        {
            if (_isFinished)
            {
                return;
            }

            TryGoOn();
            WriteLosses();
            _isFinished = true;
            CloseSegment();
            _list.Ended = Now();
            TrySaveList();
        }

        DeleteSpooled();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Finish();
        _segment?.Dispose();
        _ending.Dispose();
    }

    /// <summary>The next mark that waits to go into the recording.</summary>
    internal bool TryTakeMark(out PendingMark? mark)
    {
        lock (_gate)
        {
            return _marks.TryDequeue(out mark);
        }
    }

    /// <summary>A mark was written as a record: the ring is saved, and its file in the folder can go once it is safe.</summary>
    internal void MarkWritten(PendingMark mark)
    {
        lock (_gate)
        {
            if (!mark.IsNotice)
            {
                _marksWritten++;
                SaveLocked("a mark");
            }

            if (mark.SpoolFile is string file && _heldUp is null)
            {
                _spoolToDelete.Add(file);
            }
        }
    }

    private static InputException Refused(string folder, Exception failure) => new(
        folder,
        new InputProblem(
            "this folder cannot be recorded to, nothing is recorded",
            "",
            "a folder that may be written to",
            File.Exists(folder) ? "a file of that name" : failure.Message.TrimEnd('.'),
            HasNoRoom(failure) ? "free some space or name another folder with -o" : "name another folder with -o"));

    private static bool HasNoRoom(Exception failure) => failure.HResult == NoRoomUnix || (failure.HResult & 0xFFFF) == NoRoomWindows;

    private double SavedAfterSeconds => Math.Min(_settings.Ring?.TotalSeconds ?? 0, MostSavedAfterSeconds);

    private Timestamp Now() => Timestamp.FromUnixNanoseconds((_settings.Clock.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks) * 100);

    private void Tell(string id, bool isWarning, string text)
    {
        lock (_telling)
        {
            _settings.Tell(new RecordingNotice(id, isWarning, text));
        }
    }

    private string FreeRunName(Timestamp started)
    {
        string name = NameOf(started);
        for (int again = 2; again < MostNames && File.Exists(Path.Combine(_settings.Folder, name + RunList.Suffix)); again++)
        {
            name = string.Create(CultureInfo.InvariantCulture, $"{NameOf(started)}_{again}");
        }

        // Two runs that start at once: only one of them makes the file.
        string path = Path.Combine(_settings.Folder, name + RunList.Suffix);
        new FileStream(path, FileMode.CreateNew).Dispose();
        return name;
    }

    private static string NameOf(Timestamp time) =>
        time.ToString()[..19].Replace(":", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal) + "Z";

    // ---- segments; all under the gate ----

    // A mark keeps the time at which it was made, which may be long ago: it begins no segment of its own.
    private bool IsSegmentReady(Timestamp time, bool mayBeginAnew)
    {
        if (mayBeginAnew && _segment is { First: Timestamp first } && IsDue(first, time))
        {
            CloseSegment();
        }

        return _heldUp is null && (_segment is not null || TryOpenSegment(time));
    }

    private bool IsDue(Timestamp first, Timestamp time)
    {
        Duration age = time - first;
        return (_settings.SegmentTime is Duration most && (age >= most || Duration.Zero - age >= most))
            || (_settings.SegmentSize is long size && _segment!.Length >= size);
    }

    private bool TryOpenSegment(Timestamp time)
    {
        try
        {
            for (int again = 1; ; again++)
            {
                string name = NameOf(time) + (again > 1 ? string.Create(CultureInfo.InvariantCulture, $"_{again}") : "") + RecordedFolder.SegmentSuffix;
                string path = Path.Combine(_settings.Folder, name);
                if (File.Exists(path) && again < MostNames)
                {
                    continue;
                }

                _segment = Begin(path);
                _listed = new RunSegment(name);
                break;
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            HoldUp(failure.Message);
            return false;
        }

        _segments++;
        if (_savedAt != 0 && _settings.Clock.GetElapsedTime(_savedAt).TotalSeconds <= SavedAfterSeconds)
        {
            _listed.SavedFor = _savedFor;
        }

        _list.Segments.Add(_listed);
        TrySaveList();
        return true;
    }

    // Hands the section header over at once, so that a file is a capture from its first moment.
    private SegmentWriter Begin(string path)
    {
        SegmentWriter segment = new(path, _settings.Application);
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

    private void CloseSegment()
    {
        if (_segment is null)
        {
            return;
        }

        try
        {
            _segment.HandOver();
            RandomAccess.FlushToDisk(_segment.Stream.Handle);
        }
        catch (IOException failure)
        {
            HoldUp(failure.Message);
            return;
        }

        _listed!.Octets = _segment.Stream.Length;
        _listed.ClosedAt = _settings.Clock.GetTimestamp();
        _closedOctets += _segment.Stream.Length;
        try
        {
            _segment.Index().Save(_segment.Path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // An index only saves time; it is made again by whoever opens the folder.
        }

        _segment.Dispose();
        _segment = null;
        Prune();
    }

    private void TrySaveList()
    {
        try
        {
            _list.Save();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Segments are found without the list; the ring deletes nothing that is not on it.
        }
    }

    // ---- when nothing can be written ----

    private void HoldUp(string why)
    {
        _heldUp ??= why;
    }

    private void Lose(CaptureInterface face, long lostBefore, long records)
    {
        _notRecorded += records;
        (CaptureInterface Face, long Lost) known = _lost.GetValueOrDefault(face.Id, (face, 0));
        _lost[face.Id] = (face, known.Lost + lostBefore + records);
    }

    private void TryGoOn()
    {
        if (_heldUp is null)
        {
            return;
        }

        try
        {
            if (_segment is not null)
            {
                Rescue();
                _segment.HandOver();
            }
            else
            {
                Directory.CreateDirectory(_settings.Folder);
            }

            _heldUp = null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            if (_settings.Ring is not null && HasNoRoom(failure))
            {
                DeleteOldest();
            }
        }
    }

    // What was lost on interfaces that have been silent since.
    private void WriteLosses()
    {
        foreach ((int id, (CaptureInterface face, long lost)) in _lost.ToArray())
        {
            if (_heldUp is null && IsSegmentReady(_newest, mayBeginAnew: false))
            {
                CaptureRecord loss = new()
                {
                    Number = 0,
                    Time = _newest,
                    Kind = RecordKind.Loss,
                    InterfaceId = id,
                    LinkType = face.LinkType,
                };
                _lost.Remove(id);
                _segment!.Write(in loss, face, lost);
            }
        }
    }

    private void Rescue()
    {
        if (_segment is null || File.Exists(_segment.Path))
        {
            return;
        }

        Directory.CreateDirectory(_settings.Folder);
        _segment.Stream.WriteAgain(_segment.Path);
        TrySaveList();
        Tell(
            "segment-removed",
            true,
            $"{_segment.Path} was removed while it was being recorded: it was written again from the open file, and recording goes on; segments closed before it may be gone");
    }

    // ---- the ring ----

    private void SaveLocked(string reason)
    {
        if (_settings.Ring is null)
        {
            return;
        }

        _savedAt = _settings.Clock.GetTimestamp();
        _savedFor = reason;
        foreach (RunSegment segment in _list.Segments)
        {
            segment.SavedFor ??= reason;
        }
    }

    private void Prune()
    {
        if (_settings.Ring is Duration ring)
        {
            while (_list.Segments.Find(segment => IsLoose(segment) && _settings.Clock.GetElapsedTime(segment.ClosedAt).TotalSeconds > ring.TotalSeconds) is RunSegment old)
            {
                Delete(old);
            }
        }
    }

    private void DeleteOldest()
    {
        if (_list.Segments.Find(IsLoose) is RunSegment oldest)
        {
            Delete(oldest);
        }
    }

    private static bool IsLoose(RunSegment segment) => segment.ClosedAt != 0 && segment.SavedFor is null;

    private void Delete(RunSegment segment)
    {
        _list.Segments.Remove(segment);
        string path = Path.Combine(_settings.Folder, segment.Name);
        try
        {
            FileInfo file = new(path);
            if (!file.Exists)
            {
                return;
            }

            if (file.LinkTarget is not null || file.Length != segment.Octets)
            {
                Tell("segment-changed", true, $"{path} is no longer the file that was recorded: it is not deleted");
                return;
            }

            file.Delete();
            File.Delete(path + SegmentIndex.Suffix);
            File.Delete(path + RecordedParts.Suffix);
            _list.Deleted++;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            Tell("segment-not-deleted", true, $"{path} could not be deleted and is left: {failure.Message}");
        }
    }

    // ---- the thread that hands over ----

    private void Tend()
    {
        while (!_ending.Wait(_settings.HandOver))
        {
            HandOverOnce();
            FindSpooled();
            if (_settings.Clock.GetElapsedTime(_nextLook).Ticks >= LookEvery || _nextLook == 0)
            {
                _nextLook = _settings.Clock.GetTimestamp();
                LookAround();
            }
        }

        HandOverOnce();
    }

    private void HandOverOnce()
    {
        Microsoft.Win32.SafeHandles.SafeFileHandle? file = null;
        long began = _settings.Clock.GetTimestamp();
        List<string> safe;
        lock (_gate)
        {
            safe = [.. _spoolToDelete];
            if (_heldUp is null && _segment is not null)
            {
                try
                {
                    _segment.HandOver();
                    file = _segment.Stream.Handle;
                }
                catch (IOException failure)
                {
                    HoldUp(failure.Message);
                }
            }
        }

        if (file is null)
        {
            // Nothing is at risk where nothing is open: what was closed before is on the disk.
            _safeSince = _heldUp is null ? began : _safeSince;
            return;
        }

        try
        {
            RandomAccess.FlushToDisk(file);
        }
        catch (Exception failure) when (failure is IOException or ObjectDisposedException)
        {
            // Closed meanwhile, and safe by that; a disk that fails shows in the next write.
        }

        long done = _settings.Clock.GetTimestamp();
        lock (_gate)
        {
            _longestAtRisk = Math.Max(_longestAtRisk, done - _safeSince);
            _safeSince = began;
            _spoolToDelete.RemoveAll(safe.Contains);
        }

        safe.ForEach(DeleteQuietly);
    }

    private void FindSpooled()
    {
        try
        {
            foreach (PendingMark mark in MarkSpool.Find(_settings.Folder, _spooled))
            {
                lock (_gate)
                {
                    if (_marks.Count >= MostPending)
                    {
                        return;
                    }

                    _spooled.Add(mark.SpoolFile!);
                    // A time that has not come yet is nobody's.
                    _marks.Enqueue(mark.Time > Now() ? mark with { Time = Now() } : mark);
                }
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // The folder is gone or closed; LookAround says so.
        }
    }

    private void LookAround()
    {
        lock (_gate)
        {
            if (_heldUp is null && _segment is not null)
            {
                try
                {
                    Rescue();
                }
                catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
                {
                    HoldUp("the folder was removed: " + failure.Message);
                }
            }

            if (_heldUp is not null)
            {
                if (!_isTold)
                {
                    _isTold = true;
                    Tell(
                        "held-up",
                        true,
                        $"nothing can be written to {_settings.Folder} ({_heldUp}): what was recorded is kept, what comes now is counted and lost; recording goes on by itself once there is room");
                }

                TryGoOn();
            }

            if (_heldUp is null && _isTold)
            {
                _isTold = false;
                Tell(
                    "goes-on",
                    false,
                    string.Create(CultureInfo.InvariantCulture, $"{_settings.Folder} can be written to again: recording goes on; {_notRecorded:N0} records were not recorded in all"));
            }

            _rate.Look();
            Prune();
        }

        _disk.Look(_rate.OctetsPerSecond, _settings.Ring is not null);
    }

    private void DeleteSpooled()
    {
        _spoolToDelete.ForEach(DeleteQuietly);
        _spoolToDelete.Clear();
    }

    private static void DeleteQuietly(string path)
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
