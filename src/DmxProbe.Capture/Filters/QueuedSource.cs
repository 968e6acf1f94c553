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
    private static readonly int HeaderLength = Marshal.SizeOf<Header>();

    private readonly ILiveSource _inner;
    private readonly byte[] _ring;
    private readonly int _mask;
    private readonly Thread _thread;
    private readonly ManualResetEventSlim _something = new(false);
    private readonly Dictionary<int, long> _lost = [];
    private readonly Action<LiveNotice> _tell;
    private CaptureInterface[] _interfaces = [];
    private ExceptionDispatchInfo? _failure;
    private long _head;
    private long _tail;
    private long _nextTail;
    private long _idle = long.MinValue;
    private long _idleTold = long.MinValue;
    private long _records;
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
        _ring = GC.AllocateUninitializedArray<byte>(capacity);
        _mask = capacity - 1;
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
        Volatile.Write(ref _tail, _nextTail);
        bool waited = false;
        while (true)
        {
            // In this order: an idle time is true only of records that were queued before it.
            bool ended = _ended;
            long idle = Volatile.Read(ref _idle);
            if (_nextTail != Volatile.Read(ref _head))
            {
                record = Take();
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
                record = new CaptureRecord { Number = _records, Time = Timestamp.FromUnixNanoseconds(_idleTold), InterfaceId = 0 };
                return ReadStatus.Idle;
            }

            _something.Reset();
            _waiting = true;
            Interlocked.MemoryBarrier();
            if (_nextTail == Volatile.Read(ref _head) && !_ended && Volatile.Read(ref _idle) <= _idleTold)
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

    private static int Room(int dataLength) => HeaderLength + ((dataLength + 7) & ~7);

    private CaptureRecord Take()
    {
        int at = (int)(_nextTail & _mask);
        Header header = _ring.Length - at < HeaderLength ? new Header { Length = -1 } : MemoryMarshal.Read<Header>(_ring.AsSpan(at));
        if (header.Length < 0)
        {
            _nextTail += _ring.Length - at;
            at = 0;
            header = MemoryMarshal.Read<Header>(_ring);
        }

        _nextTail += Room(header.Length);
        return new CaptureRecord
        {
            Number = ++_records,
            Time = Timestamp.FromUnixNanoseconds(header.Time),
            HasTime = header.HasTime != 0,
            Kind = (RecordKind)header.Kind,
            InterfaceId = header.InterfaceId,
            LinkType = (LinkType)header.LinkType,
            OriginalLength = header.OriginalLength,
            LostBefore = header.LostBefore,
            Data = _ring.AsSpan(at + HeaderLength, header.Length),
        };
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
        if (_full && _ring.Length - (_head - Volatile.Read(ref _tail)) < _ring.Length / 8)
        {
            Lose(in record);
            return;
        }

        _full = false;
        PutLosses(record.Time);
        if (_full || !TryPut(in record))
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
            if (!TryPut(in loss))
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

    private bool TryPut(in CaptureRecord record)
    {
        int need = Room(record.Data.Length);
        int at = (int)(_head & _mask);
        int toEnd = _ring.Length - at;
        bool wraps = need > toEnd;
        if (_head + need + (wraps ? toEnd : 0) - Volatile.Read(ref _tail) > _ring.Length)
        {
            return false;
        }

        long head = _head;
        if (wraps)
        {
            // An end shorter than a header needs no word: the reader skips it too.
            if (toEnd >= HeaderLength)
            {
                MemoryMarshal.Write(_ring.AsSpan(at), new Header { Length = -1 });
            }

            head += toEnd;
            at = 0;
        }

        MemoryMarshal.Write(
            _ring.AsSpan(at),
            new Header
            {
                Time = record.Time.UnixNanoseconds,
                LostBefore = record.LostBefore,
                Length = record.Data.Length,
                OriginalLength = record.OriginalLength,
                InterfaceId = record.InterfaceId,
                LinkType = (int)record.LinkType,
                Kind = (byte)record.Kind,
                HasTime = record.HasTime ? (byte)1 : (byte)0,
            });
        record.Data.CopyTo(_ring.AsSpan(at + HeaderLength));
        Volatile.Write(ref _head, head + need);
        return true;
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct Header
    {
        public long Time;
        public long LostBefore;
        public int Length; // -1: go on at the beginning
        public int OriginalLength;
        public int InterfaceId;
        public int LinkType; // -1 for what has none: serial ports
        public byte Kind;
        public byte HasTime;
    }
}
