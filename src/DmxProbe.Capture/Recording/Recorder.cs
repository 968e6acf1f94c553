using DmxProbe.Protocols.Records;
using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Writes records into segments in a folder. What was written is handed to the disk every 250 ms by a thread of its own, so
/// that neither a killed process nor a power cut costs more than the last second, whatever the source does meanwhile.
/// </summary>
/// <remarks>
/// Never overwrites a file. While nothing can be written the recorder counts what it could not record, tries again every
/// second, and writes the count into the recording as its own loss once it can.
/// </remarks>
public sealed class Recorder : IDisposable
{
    private static readonly long LookEvery = TimeSpan.FromSeconds(1).Ticks;

    private readonly RecorderSettings _settings;
    private readonly Lock _gate = new();
    private readonly Lock _telling = new();
    private readonly ManualResetEventSlim _ending = new();
    private readonly Thread _tender;
    private readonly RunList _list;
    private readonly Standstill _standstill;
    private readonly RecordingRing _ring;
    private readonly SegmentRoll _segments;
    private readonly MarkInbox _marks;
    private readonly DiskWatch _disk;
    private readonly RateMeter _rate;

    private Timestamp _newest = Timestamp.MinValue;
    private long _records;
    private long _marksWritten;
    private long _lostBySource;
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
        _list = RunFolder.Begin(settings, Now());
        _standstill = new Standstill(settings.Folder, Tell);
        _ring = new RecordingRing(settings, _list, Tell);
        _segments = new SegmentRoll(settings, _list, _ring, _standstill, Tell);
        _marks = new MarkInbox(settings.Folder, Now);
        _disk = new DiskWatch(settings, Tell);
        _rate = new RateMeter(settings.Clock);
        _safeSince = settings.Clock.GetTimestamp();
        _disk.Look(0, settings.Ring is not null);
        _marks.Look(); // marks left while nothing recorded
        _tender = new Thread(Tend) { IsBackground = true, Name = "recorder" };
        _tender.Start();
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
                    Octets = _segments.Octets,
                    Segments = _segments.Count,
                    Deleted = _list.Deleted,
                    LostBySource = _lostBySource,
                    NotRecorded = _standstill.NotRecorded,
                    RecordsPerSecond = _rate.RecordsPerSecond,
                    OctetsPerSecond = _rate.OctetsPerSecond,
                    Free = _disk.Free,
                    Left = _disk.Left(_rate.OctetsPerSecond),
                    IsHeldUp = _standstill.Why is not null,
                    LongestAtRisk = Duration.FromNanoseconds((long)_settings.Clock.GetElapsedTime(0, _longestAtRisk).TotalNanoseconds),
                };
            }
        }
    }

    /// <summary>Makes a folder where there is none and sees whether it can be written to, so that nothing is begun for nothing.</summary>
    /// <param name="folder">The folder.</param>
    /// <returns>The folders that were not there before, the deepest first.</returns>
    /// <exception cref="InputException">It cannot be made or written to.</exception>
    public static IReadOnlyList<string> MakeFolder(string folder) => RunFolder.Make(folder);

    /// <summary>Takes away folders that were made for a recording that did not begin, each only while nothing is in it.</summary>
    /// <param name="made">What <see cref="MakeFolder"/> gave.</param>
    public static void RemoveEmpty(IReadOnlyList<string> made) => RunFolder.RemoveEmpty(made);

    /// <summary>Asks for a mark in the recording, now. Any thread; of more than 1,024 waiting the rest is dropped.</summary>
    /// <param name="text">What happened; cut at 1,024 octets of UTF-8.</param>
    /// <param name="isNotice">True for what the program notes itself: a clock that was set, an interface that went.</param>
    public void Mark(string text, bool isNotice = false) => _marks.Add(text, isNotice);

    /// <summary>
    /// Ring: keeps what it holds now, and the minute to come (less where the ring is shorter). Without a ring everything is
    /// kept anyway.
    /// </summary>
    /// <param name="reason">Why, for the list of the run.</param>
    public void Save(string reason)
    {
        lock (_gate)
        {
            _ring.Save(reason);
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
            if (!_segments.Record(in record, face))
            {
                return;
            }

            _records++;
            _rate.Add(_segments.Octets, _records);
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
            _segments.WriteLosses(_newest);
            _isFinished = true;
            _segments.Close();
            _list.Ended = Now();
            _segments.SaveList();
        }

        _marks.Delete(_marks.WrittenFiles());
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Finish();
        _segments.Dispose();
        _ending.Dispose();
    }

    /// <summary>The next mark that waits to go into the recording.</summary>
    internal bool TryTakeMark(out PendingMark? mark) => _marks.TryTake(out mark);

    /// <summary>A mark was written as a record: the ring is saved, and its file in the folder can go once it is safe.</summary>
    internal void MarkWritten(PendingMark mark)
    {
        lock (_gate)
        {
            if (!mark.IsNotice)
            {
                _marksWritten++;
                _ring.Save("a mark");
            }

            if (mark.SpoolFile is string file && _standstill.Why is null)
            {
                _marks.Written(file);
            }
        }
    }

    private Timestamp Now() => Timestamp.FromUnixNanoseconds((_settings.Clock.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks) * 100);

    private void Tell(string id, bool isWarning, string text)
    {
        lock (_telling)
        {
            _settings.Tell(new RecordingNotice(id, isWarning, text));
        }
    }

    private void TryGoOn()
    {
        if (_standstill.Why is null)
        {
            return;
        }

        try
        {
            _segments.GoOn();
            _standstill.End();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            if (RunFolder.HasNoRoom(failure))
            {
                _ring.DeleteOldest();
            }
        }
    }

    // ---- the thread that hands over ----

    private void Tend()
    {
        while (!_ending.Wait(_settings.HandOver))
        {
            HandOverOnce();
            _marks.Look();
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
        SafeFileHandle? file;
        long began = _settings.Clock.GetTimestamp();
        IReadOnlyList<string> safe;
        lock (_gate)
        {
            safe = _marks.WrittenFiles();
            file = _segments.HandOver();
        }

        if (file is null)
        {
            // Nothing is at risk where nothing is open: what was closed before is on the disk.
            _safeSince = _standstill.Why is null ? began : _safeSince;
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
        }

        _marks.Delete(safe);
    }

    private void LookAround()
    {
        lock (_gate)
        {
            if (_standstill.Why is null)
            {
                try
                {
                    _segments.Rescue();
                }
                catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
                {
                    _standstill.Begin("the folder was removed: " + failure.Message);
                }
            }

            if (_standstill.Why is not null)
            {
                _standstill.SayBegun();
                TryGoOn();
            }

            _standstill.SayEnded();
            _rate.Look();
            _ring.Prune();
        }

        _disk.Look(_rate.OctetsPerSecond, _settings.Ring is not null);
    }
}
