using System.Runtime.InteropServices;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Filters;

/// <summary>
/// A bounded queue of records in one block of memory, allocated once: one thread puts, one takes, without a lock. A record
/// taken stays where it is until the next is taken or <see cref="Release"/> is called.
/// </summary>
/// <param name="capacity">Octets, a power of two.</param>
internal sealed class RecordRing(int capacity)
{
    private static readonly int HeaderLength = Marshal.SizeOf<Header>();

    private readonly byte[] _ring = GC.AllocateUninitializedArray<byte>(capacity);
    private readonly int _mask = capacity - 1;
    private long _head;
    private long _tail;
    private long _nextTail;
    private long _records;

    /// <summary>Octets of queue.</summary>
    public int Capacity => _ring.Length;

    /// <summary>Octets free, as whoever puts sees it.</summary>
    public long Free => _ring.Length - (_head - Volatile.Read(ref _tail));

    /// <summary>Whether nothing waits, as whoever takes sees it.</summary>
    public bool IsEmpty => _nextTail == Volatile.Read(ref _head);

    /// <summary>Records taken.</summary>
    public long Taken => _records;

    /// <summary>The record taken last is done with: its room is free.</summary>
    public void Release() => Volatile.Write(ref _tail, _nextTail);

    /// <summary>Takes the next record; there must be one. Valid until it is released.</summary>
    public CaptureRecord Take()
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

    /// <summary>Puts a copy of a record; false where it does not fit.</summary>
    public bool TryPut(in CaptureRecord record)
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

    private static int Room(int dataLength) => HeaderLength + ((dataLength + 7) & ~7);

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
