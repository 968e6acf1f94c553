using System.Buffers.Binary;
using System.Runtime.InteropServices;
using DmxProbe.Protocols.Net;
using static DmxProbe.Capture.Sockets.LinuxNative;

namespace DmxProbe.Capture.Sockets;

/// <summary>One socket and the datagrams last read from it, in memory of its own: reading them allocates nothing.</summary>
internal sealed unsafe class LinuxSocket : IDisposable
{
    private const int HeadRoom = 64;
    private const int SlotLength = 2048;
    private const int NameRoom = 28;
    private const int ControlRoom = 128;
    private const int ControlHeader = 16; // struct cmsghdr with 64-bit length
    private const int RoomEach = SlotLength + ControlRoom + 32;

    private readonly int _descriptor;
    private readonly int _batch;
    private readonly byte* _memory;
    private readonly Message* _messages;
    private readonly Part* _parts;
    private readonly byte* _slots;
    private readonly byte* _controls;
    private readonly byte* _names;
    private int _count;
    private int _next;
    private uint _dropsTold;
    private bool _closed;

    public LinuxSocket(int descriptor, bool isIpv6, ushort port, bool isFirst, int batch)
    {
        _descriptor = descriptor;
        _batch = batch;
        IsIpv6 = isIpv6;
        Port = port;
        IsFirst = isFirst;
        nuint size = (nuint)(batch * (sizeof(Message) + sizeof(Part) + RoomEach));
        _memory = (byte*)NativeMemory.AllocZeroed(size);
        _slots = _memory;
        _controls = _slots + (batch * SlotLength);
        _names = _controls + (batch * ControlRoom);
        _messages = (Message*)(_names + (batch * 32));
        _parts = (Part*)(_messages + batch);
        for (int i = 0; i < batch; i++)
        {
            _parts[i] = new Part { Start = _slots + (i * SlotLength) + HeadRoom, Length = SlotLength - HeadRoom };
            _messages[i] = new Message
            {
                Name = _names + (i * 32),
                Parts = _parts + i,
                PartCount = 1,
                Control = _controls + (i * ControlRoom),
            };
        }
    }

    public int Descriptor => _descriptor;

    public bool IsIpv6 { get; }

    public ushort Port { get; }

    /// <summary>The one of its port that takes broadcasts: the kernel hands them to every socket.</summary>
    public bool IsFirst { get; }

    /// <summary>Groups joined through it.</summary>
    public List<(IpAddress Group, int InterfaceIndex)> Groups { get; } = [];

    public bool HasNext => _next < _count;

    /// <summary>Whether the last read took as many as there is room for, so that more may be waiting.</summary>
    public bool MayHoldMore => _count == _batch;

    /// <summary>Whether its datagram at hand waits to be delivered.</summary>
    public bool IsAhead { get; set; }

    // Of the datagram at hand:
    public long Stamped { get; private set; }

    public int InterfaceIndex { get; private set; }

    public IpAddress Source { get; private set; }

    public ushort SourcePort { get; private set; }

    public IpAddress Destination { get; private set; }

    public int TrueLength { get; private set; }

    public long LostBefore { get; private set; }

    public static int PayloadAt => HeadRoom;

    /// <summary>The slot up to the end of what came.</summary>
    public Span<byte> Buffer => new(
        _slots + ((_next - 1) * SlotLength), HeadRoom + Math.Min(TrueLength, SlotLength - HeadRoom));

    /// <summary>Reads what is waiting, without waiting.</summary>
    public bool Fill()
    {
        for (int i = 0; i < _batch; i++)
        {
            _messages[i].NameLength = NameRoom;
            _messages[i].ControlLength = ControlRoom;
            _messages[i].Flags = 0;
        }

        int got = ReceiveMany(_descriptor, _messages, (uint)_batch, DontWait | Truncated, null);
        _count = Math.Max(0, got);
        _next = 0;
        return got > 0;
    }

    /// <summary>Goes to the next datagram read; it must be there.</summary>
    /// <returns>False where it is a second copy of one that another socket has.</returns>
    public bool Advance()
    {
        Message* message = _messages + _next++;
        TrueLength = (int)Math.Min(message->Length, ushort.MaxValue - 8 - 20);
        ReadSource(message->Name);
        uint drops = _dropsTold;
        bool isForThisHost = true;
        Stamped = 0;
        InterfaceIndex = 0;
        Destination = default;
        byte* end = message->Control + message->ControlLength;
        for (byte* at = message->Control; end - at >= ControlHeader;)
        {
            nuint length = *(nuint*)at;
            if (length < ControlHeader || length > (nuint)(end - at))
            {
                break;
            }

            int level = *(int*)(at + 8);
            int type = *(int*)(at + 12);
            byte* data = at + ControlHeader;
            if (level == LevelSocket && type == TimestampNanoseconds)
            {
                TimeSpec* time = (TimeSpec*)data;
                Stamped = ((long)time->Seconds * 1_000_000_000) + time->Nanoseconds;
            }
            else if (level == LevelSocket && type == QueueOverflow)
            {
                drops = *(uint*)data;
            }
            else if (level == LevelIpv4 && type == Ipv4PacketInformation)
            {
                // struct in_pktinfo: interface, local address, address in the header.
                InterfaceIndex = *(int*)data;
                Destination = IpAddress.FromIpv4(BinaryPrimitives.ReverseEndianness(*(uint*)(data + 8)));
                isForThisHost = *(uint*)(data + 4) == *(uint*)(data + 8);
            }
            else if (level == LevelIpv6 && type == Ipv6PacketInformation)
            {
                Destination = IpAddress.FromIpv6(new ReadOnlySpan<byte>(data, 16));
                InterfaceIndex = *(int*)(data + 16);
            }

            at += (length + 7) & ~(nuint)7;
        }

        int lost = unchecked((int)(drops - _dropsTold));
        LostBefore = Math.Max(0, lost);
        _dropsTold = lost > 0 ? drops : _dropsTold;
        return IsFirst || IsIpv6 || isForThisHost || Destination.IsMulticast;
    }

    /// <summary>Datagrams dropped since the last told. Only while nothing is waiting: else they are told twice.</summary>
    public long TakeDrops()
    {
        uint* figures = stackalloc uint[MemoryFigures];
        uint length = MemoryFigures * sizeof(uint);
        if (GetOption(_descriptor, LevelSocket, MemoryInformation, figures, &length) != 0 || length < (MemoryDrops + 1) * sizeof(uint))
        {
            return 0;
        }

        int lost = unchecked((int)(figures[MemoryDrops] - _dropsTold));
        if (lost <= 0)
        {
            return 0;
        }

        _dropsTold = figures[MemoryDrops];
        return lost;
    }

    public void Dispose()
    {
        if (!_closed)
        {
            _closed = true;
            _ = Close(_descriptor);
            NativeMemory.Free(_memory);
        }
    }

    // struct sockaddr_in or sockaddr_in6: family, port, then the address at 4 or 8.
    private void ReadSource(byte* name)
    {
        SourcePort = BinaryPrimitives.ReverseEndianness(*(ushort*)(name + 2));
        Source = IsIpv6
            ? IpAddress.FromIpv6(new ReadOnlySpan<byte>(name + 8, 16))
            : IpAddress.FromIpv4(BinaryPrimitives.ReverseEndianness(*(uint*)(name + 4)));
    }
}
