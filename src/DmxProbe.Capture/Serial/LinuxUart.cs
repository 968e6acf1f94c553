using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using DmxProbe.Protocols.Records;
using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Capture.Serial;

/// <summary>
/// A bare port on Linux at 250 kbit/s, 8 data bits, 2 stop bits, breaks and framing errors marked in the stream (termios2 with
/// BOTHER and PARMRK; docs/decisions). Opened for reading only, so that nothing can be written to the line.
/// </summary>
internal sealed partial class LinuxUart : ISerialPort
{
    private const uint DmxBitsPerSecond = 250_000;
    private const int LargestRateError = 50; // one part in 50 = 2 % (E1.11, from secondary sources)
    private const int RequestToSend = 4;

    private readonly SafeFileHandle _handle;
    private int _overruns;

    private LinuxUart(SafeFileHandle handle)
    {
        _handle = handle;
        _overruns = Overruns() ?? 0;
    }

    /// <summary>True where the system's calls are those this class knows.</summary>
    public static bool IsSupported => OperatingSystem.IsLinux()
        && RuntimeInformation.ProcessArchitecture is Architecture.X64 or Architecture.X86 or Architecture.Arm or Architecture.Arm64 or Architecture.RiscV64;

    /// <summary>Opens a port.</summary>
    /// <exception cref="InputException">It cannot be opened, or not so.</exception>
    public static LinuxUart Open(string input, string path, bool marks)
    {
        int descriptor = Native.Open(path, Native.ReadOnly | Native.NoControllingTerminal | Native.NonBlocking | Native.CloseOnExec);
        if (descriptor < 0)
        {
            throw Marshal.GetLastPInvokeError() switch
            {
                Native.NoEntry or Native.NoDevice or Native.NoDeviceAddress => SerialRefusal.Absent(input, path),
                Native.AccessDenied or Native.NotPermitted => SerialRefusal.NotAllowed(input, path),
                Native.Busy => SerialRefusal.InUse(input, path),
                _ => SerialRefusal.Failed(input, Marshal.GetLastPInvokeErrorMessage()),
            };
        }

        SafeFileHandle handle = new(descriptor, ownsHandle: true);
        try
        {
            SetUp(input, path, descriptor, marks);
            return new LinuxUart(handle);
        }
        catch
        {
            handle.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public int Read(Span<byte> target, Duration longest, out bool wasOverrun)
    {
        wasOverrun = false;
        int descriptor = (int)_handle.DangerousGetHandle();
        Native.PollEntry entry = new() { Descriptor = descriptor, Events = Native.PollIn };
        int ready = Native.Poll(ref entry, 1, (int)(longest.Nanoseconds / 1_000_000));
        if (ready < 0)
        {
            return Marshal.GetLastPInvokeError() == Native.Interrupted ? 0 : throw Gone();
        }

        if (ready == 0)
        {
            return 0;
        }

        nint read = Native.Read(descriptor, ref MemoryMarshal.GetReference(target), (nuint)target.Length);
        if (read > 0)
        {
            // A call that fails means a port without counters (a pseudo terminal, some drivers).
            int overruns = Overruns() ?? _overruns;
            wasOverrun = overruns != _overruns;
            _overruns = overruns;
            return (int)read;
        }

        bool comesLater = read < 0 && Marshal.GetLastPInvokeError() is Native.TryAgain or Native.Interrupted;
        return comesLater && (entry.Returned & ~Native.PollIn) == 0 ? 0 : throw Gone();
    }

    /// <inheritdoc/>
    public void Dispose() => _handle.Dispose();

    private static IOException Gone() => new("the port went away");

    private static void SetUp(string input, string path, int descriptor, bool marks)
    {
        Native.Termios2 settings = default;
        if (Native.Control(descriptor, Native.GetTermios2, ref settings) < 0)
        {
            throw SerialRefusal.NoPort(input, path);
        }

        if (Native.Control(descriptor, Native.Exclusive, 0) < 0)
        {
            throw SerialRefusal.InUse(input, path);
        }

        // Adapters that turn their driver on by this line would hold the DMX line.
        int lines = RequestToSend;
        _ = Native.Control(descriptor, Native.ClearModemBits, ref lines);

        settings.Input = marks ? Native.MarkErrors | Native.CheckInput : 0;
        settings.Output = 0;
        settings.Local = 0;
        settings.Control = Native.EightBits | Native.TwoStopBits | Native.Receive | Native.IgnoreModemLines | Native.OtherRate;
        settings.InputRate = DmxBitsPerSecond;
        settings.OutputRate = DmxBitsPerSecond;
        settings.Characters = default; // no special characters; a read takes what is there
        if (Native.Control(descriptor, Native.SetTermios2, ref settings) < 0
            || Native.Control(descriptor, Native.GetTermios2, ref settings) < 0)
        {
            throw SerialRefusal.Failed(input, Marshal.GetLastPInvokeErrorMessage());
        }

        if (Math.Abs((long)settings.InputRate - DmxBitsPerSecond) > DmxBitsPerSecond / LargestRateError)
        {
            throw SerialRefusal.WrongRate(input, settings.InputRate);
        }

        // What waited from before was received at another rate.
        _ = Native.Control(descriptor, Native.Flush, 0);
    }

    private int? Overruns()
    {
        Native.Counters counters = default;
        return Native.Control((int)_handle.DangerousGetHandle(), Native.GetCounters, ref counters) < 0
            ? null
            : unchecked(counters.Values[Native.OverrunCounter] + counters.Values[Native.BufferOverrunCounter]);
    }

    // Numbers of the Linux kernel's asm-generic headers (termbits.h, ioctls.h, fcntl.h, poll.h).
    private static partial class Native
    {
        public const int ReadOnly = 0;
        public const int NoControllingTerminal = 0x100;
        public const int NonBlocking = 0x800;
        public const int CloseOnExec = 0x80000;
        public const int NotPermitted = 1;
        public const int NoEntry = 2;
        public const int Interrupted = 4;
        public const int NoDeviceAddress = 6;
        public const int TryAgain = 11;
        public const int AccessDenied = 13;
        public const int Busy = 16;
        public const int NoDevice = 19;
        public const short PollIn = 1;
        public const uint GetTermios2 = 0x802C542A;
        public const uint SetTermios2 = 0x402C542B;
        public const uint Exclusive = 0x540C;
        public const uint Flush = 0x540B;
        public const uint ClearModemBits = 0x5417;
        public const uint GetCounters = 0x545D;
        public const int OverrunCounter = 7;
        public const int BufferOverrunCounter = 10;
        public const uint MarkErrors = 0x8;
        public const uint CheckInput = 0x10;
        public const uint EightBits = 0x30;
        public const uint TwoStopBits = 0x40;
        public const uint Receive = 0x80;
        public const uint IgnoreModemLines = 0x800;
        public const uint OtherRate = 0x1000;

        [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
        public static partial int Open(string path, int flags);

        [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
        public static partial nint Read(int descriptor, ref byte target, nuint length);

        [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
        public static partial int Poll(ref PollEntry entries, nuint count, int milliseconds);

        [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
        public static partial int Control(int descriptor, nuint request, ref Termios2 settings);

        [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
        public static partial int Control(int descriptor, nuint request, ref Counters counters);

        [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
        public static partial int Control(int descriptor, nuint request, ref int value);

        [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
        public static partial int Control(int descriptor, nuint request, nint value);

        [StructLayout(LayoutKind.Sequential)]
        public struct PollEntry
        {
            public int Descriptor;
            public short Events;
            public short Returned;
        }

        [StructLayout(LayoutKind.Sequential)]
        public struct Termios2
        {
            public uint Input;
            public uint Output;
            public uint Control;
            public uint Local;
            public byte Line;
            public SpecialCharacters Characters;
            public uint InputRate;
            public uint OutputRate;
        }

        [InlineArray(19)]
        public struct SpecialCharacters
        {
            private byte _first;
        }

        [InlineArray(20)]
        public struct CounterValues
        {
            private int _first;
        }

        [StructLayout(LayoutKind.Sequential)]
        public struct Counters
        {
            public CounterValues Values;
        }
    }
}
