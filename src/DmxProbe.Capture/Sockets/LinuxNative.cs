using System.Runtime.InteropServices;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// The kernel's own calls for sockets on Linux, with the numbers of its headers (asm-generic/socket.h, linux/in.h,
/// linux/in6.h). The one place of this assembly that names them.
/// </summary>
internal static unsafe partial class LinuxNative
{
    public const int AddressFamilyIpv4 = 2;
    public const int AddressFamilyIpv6 = 10;
    public const int Datagram = 2;
    public const int CloseOnExec = 0x80000;

    public const int LevelSocket = 1;
    public const int ReuseAddress = 2;
    public const int ReceiveBuffer = 8;
    public const int ReceiveBufferForce = 33;
    public const int TimestampNanoseconds = 35;
    public const int QueueOverflow = 40;
    public const int MemoryInformation = 55;
    public const int MemoryDrops = 8;
    public const int MemoryFigures = 9;

    public const int LevelIpv4 = 0;
    public const int Ipv4PacketInformation = 8;
    public const int Ipv4AddMembership = 35;
    public const int Ipv4DropMembership = 36;
    public const int Ipv4MulticastAll = 49;

    public const int LevelIpv6 = 41;
    public const int Ipv6AddMembership = 20;
    public const int Ipv6DropMembership = 21;
    public const int Ipv6Only = 26;
    public const int Ipv6MulticastAll = 29;
    public const int Ipv6ReceivePacketInformation = 49;
    public const int Ipv6PacketInformation = 50;

    public const int DontWait = 0x40;
    public const int Truncated = 0x20;
    public const short PollIn = 1;

    public const int ErrorAccess = 13;
    public const int ErrorAddressInUse = 98;
    public const int ErrorFamilyUnknown = 97;
    public const int ErrorNoBuffers = 105;
    public const int ErrorNoMemory = 12;
    public const int ErrorTooManyFiles = 24;

    public const int ClockMonotonic = 1;
    public const int ClockBootTime = 7;

    /// <summary>Nanoseconds this computer has slept since it was started.</summary>
    public static long Asleep()
    {
        TimeSpec monotonic;
        TimeSpec boot;
        return ClockGetTime(ClockMonotonic, &monotonic) == 0 && ClockGetTime(ClockBootTime, &boot) == 0
            ? (((long)boot.Seconds - monotonic.Seconds) * 1_000_000_000) + (boot.Nanoseconds - monotonic.Nanoseconds)
            : 0;
    }

    /// <summary>Waits until a descriptor can be read.</summary>
    public static bool WaitFor(int descriptor, int milliseconds)
    {
        PollEntry entry = new() { Socket = descriptor, Asked = PollIn };
        return Poll(&entry, 1, milliseconds) > 0;
    }

    [LibraryImport("libc", EntryPoint = "socket", SetLastError = true)]
    public static partial int Socket(int family, int type, int protocol);

    [LibraryImport("libc", EntryPoint = "bind", SetLastError = true)]
    public static partial int Bind(int socket, byte* address, uint length);

    [LibraryImport("libc", EntryPoint = "close")]
    public static partial int Close(int socket);

    [LibraryImport("libc", EntryPoint = "setsockopt", SetLastError = true)]
    public static partial int SetOption(int socket, int level, int name, void* value, uint length);

    [LibraryImport("libc", EntryPoint = "getsockopt", SetLastError = true)]
    public static partial int GetOption(int socket, int level, int name, void* value, uint* length);

    [LibraryImport("libc", EntryPoint = "recvmmsg", SetLastError = true)]
    public static partial int ReceiveMany(int socket, Message* messages, uint count, int flags, void* timeout);

    [LibraryImport("libc", EntryPoint = "sendto", SetLastError = true)]
    public static partial nint SendTo(int socket, byte* data, nuint length, int flags, byte* address, uint addressLength);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    public static partial int Poll(PollEntry* entries, nuint count, int milliseconds);

    [LibraryImport("libc", EntryPoint = "clock_gettime")]
    private static partial int ClockGetTime(int clock, TimeSpec* time);

    [StructLayout(LayoutKind.Sequential)]
    public struct PollEntry
    {
        public int Socket;
        public short Asked;
        public short Came;
    }

    [StructLayout(LayoutKind.Sequential)]
    public struct Part
    {
        public byte* Start;
        public nuint Length;
    }

    /// <summary>struct mmsghdr: a struct msghdr and the octets that came.</summary>
    [StructLayout(LayoutKind.Sequential)]
    public struct Message
    {
        public byte* Name;
        public uint NameLength;
        public Part* Parts;
        public nuint PartCount;
        public byte* Control;
        public nuint ControlLength;
        public int Flags;
        private readonly int _padding; // struct msghdr is as long as its 8-octet members ask
        public uint Length;
        private readonly int _paddingAfter;
    }

    [StructLayout(LayoutKind.Sequential)]
    public struct TimeSpec
    {
        public nint Seconds;
        public nint Nanoseconds;
    }
}
