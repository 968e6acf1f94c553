using System.Runtime.ExceptionServices;
using System.Runtime.InteropServices;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Filters;

/// <summary>
/// A live source read by a thread of its own into a bounded queue, so that a pause of the analysis or of the disk loses
/// nothing. What does not fit is counted and becomes loss records: our own loss, never the network's. Owns its source.
/// </summary>
public sealed class QueuedSource : ILiveSource
{
    /// <summary>Octets of queue: about 45,000 records of a full universe, a second of 1,000 universes.</summary>
    public const int UsualCapacity = 32 * 1024 * 1024;

    private const int PatienceMilliseconds = 100;

    private readonly ILiveSource _inner;
    private readonly RecordRing _ring;
    private readonly Thread _thread;
    private readonly ManualResetEventSlim _something = new(false);
    private readonly Dictionary<int, long> _lost = [];
    private readonly Action<LiveNotice> _tell;
    private CaptureInterface[] _interfaces = [];
    private ExceptionDispatchInfo? _failure;
    private long _idle = long.MinValue;
    private long _idleTold = long.MinValue;
    private volatile bool _waiting;
    private volatile bool _ended;
    private volatile bool _stop;
    private bool _full;
    private bool _overrunTold;

    /// <summary>Starts reading.</summary>
    /// <param name="inner">The source.</param>
    /// <param name="tell">Takes a notice on the first overrun; null for none.</param>
    /// <param name="capacity">Octets of queue, a power of two of at least 64 KiB.</param>
    public QueuedSource(ILiveSource inner, Action<LiveNotice>? tell = null, int capacity = UsualCapacity)
    {
        ArgumentNullException.ThrowIfNull(inner);
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 64 * 1024);
        ArgumentOutOfRangeException.ThrowIfNotEqual(System.Numerics.BitOperations.IsPow2(capacity), true, nameof(capacity));
        _inner = inner;
        _tell = tell ?? (_ => { });
        _ring = new RecordRing(capacity);
        TakeInterfaces();
        _thread = new Thread(ReadOn) { IsBackground = true, Name = "capture " + inner.Name, Priority = ThreadPriority.AboveNormal };
        _thread.Start();
    }

    /// <inheritdoc/>
    public string Name => _inner.Name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => Volatile.Read(ref _interfaces);

    /// <inheritdoc/>
    public InputProblem? Problem => _ended ? _inner.Problem : null;

    /// <inheritdoc/>
    public void Stop() => _inner.Stop();

    /// <summary>
    /// The next record. Waits at most 0.1 s, then says idle with the time up to which nothing came; that time is
    /// <see cref="Timestamp.MinValue"/> until the source has said one.
    /// </summary>
    public ReadStatus Read(out CaptureRecord record)
    {
        _ring.Release();
        bool waited = false;
        while (true)
        {
            // In this order: an idle time is true only of records that were queued before it.
            bool ended = _ended;
            long idle = Volatile.Read(ref _idle);
            if (!_ring.IsEmpty)
            {
                record = _ring.Take();
                return ReadStatus.Record;
            }

            if (ended)
            {
                _failure?.Throw();
                record = default;
                return ReadStatus.End;
            }

            if (idle > _idleTold || waited)
            {
                _idleTold = Math.Max(idle, _idleTold);
                record = new CaptureRecord { Number = _ring.Taken, Time = Timestamp.FromUnixNanoseconds(_idleTold), InterfaceId = 0 };
                return ReadStatus.Idle;
            }

            _something.Reset();
            _waiting = true;
            Interlocked.MemoryBarrier();
            if (_ring.IsEmpty && !_ended && Volatile.Read(ref _idle) <= _idleTold)
            {
                _something.Wait(PatienceMilliseconds);
            }

            _waiting = false;
            waited = true;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _stop = true;
        _inner.Stop();
        _thread.Join();
        _inner.Dispose();
        _something.Dispose();
    }

    private void ReadOn()
    {
        try
        {
            while (!_stop)
            {
                ReadStatus status = _inner.Read(out CaptureRecord record);
                if (status == ReadStatus.End)
                {
                    break;
                }

                if (status == ReadStatus.Record)
                {
                    TakeInterfaces();
                    Put(in record);
                }
                else
                {
                    PutLosses(record.Time);
                    Volatile.Write(ref _idle, record.Time.UnixNanoseconds);
                }

                Interlocked.MemoryBarrier();
                if (_waiting)
                {
                    _something.Set();
                }
            }

            PutLosses(Timestamp.FromUnixNanoseconds(Math.Max(0, _idle)));
        }
#pragma warning disable CA1031 // a failure on this thread belongs to whoever reads
        catch (Exception failure)
#pragma warning restore CA1031
        {
            _failure = ExceptionDispatchInfo.Capture(failure);
        }

        _ended = true;
        _something.Set();
    }

    private void TakeInterfaces()
    {
        if (_inner.Interfaces.Count != _interfaces.Length)
        {
            Volatile.Write(ref _interfaces, [.. _inner.Interfaces]);
        }
    }

    private void Put(in CaptureRecord record)
    {
        // Once full, it starts again when an eighth is free: else every other record would be a loss record.
        if (_full && _ring.Free < _ring.Capacity / 8)
        {
            Lose(in record);
            return;
        }

        _full = false;
        PutLosses(record.Time);
        if (_full || !_ring.TryPut(in record))
        {
            Lose(in record);
        }
    }

    private void PutLosses(Timestamp time)
    {
        if (_lost.Count == 0)
        {
            return;
        }

        foreach ((int interfaceId, long lost) in _lost)
        {
            CaptureRecord loss = new()
            {
                Number = 0,
                Time = time,
                Kind = RecordKind.Loss,
                InterfaceId = interfaceId,
                LinkType = _interfaces.Length > interfaceId ? _interfaces[interfaceId].LinkType : LinkType.Ethernet,
                LostBefore = lost,
            };
            if (!_ring.TryPut(in loss))
            {
                _full = true;
                return;
            }

            _lost.Remove(interfaceId);
        }
    }

    private void Lose(in CaptureRecord record)
    {
        _full = true;
        CollectionsMarshal.GetValueRefOrAddDefault(_lost, record.InterfaceId, out _) +=
            record.LostBefore + (record.Kind == RecordKind.Loss ? 0 : 1);
        if (!_overrunTold)
        {
            _overrunTold = true;
            _tell(new LiveNotice(
                "queue-overrun",
                true,
                $"{Name}: this computer does not keep up, records are being lost; they are counted as the capture's own loss"));
        }
    }
}
