using System.Runtime.InteropServices;
using System.Text;

namespace DmxProbe.Testing.Serial;

/// <summary>
/// A pseudo terminal of Linux: a test writes at one end, and the other end is a serial port to open. Disposing it is what pulling
/// the plug is for a USB adapter: reads of the port fail from then on.
/// </summary>
public sealed class PseudoTerminal : IDisposable
{
    private const int ReadWrite = 2;
    private const int NoControllingTerminal = 0x100;
    private readonly int _master;
    private bool _isClosed;

    private PseudoTerminal(int master, string port)
    {
        _master = master;
        Port = port;
    }

    /// <summary>Why tests that need one are skipped elsewhere.</summary>
    public const string NotHere = "needs the pseudo terminals of Linux";

    /// <summary>The port to open.</summary>
    public string Port { get; }

    /// <summary>Makes one, or null where the system has none.</summary>
    public static PseudoTerminal? TryOpen()
    {
        if (!OperatingSystem.IsLinux())
        {
            return null;
        }

        int master = posix_openpt(ReadWrite | NoControllingTerminal);
        if (master < 0)
        {
            return null;
        }

        byte[] name = new byte[128];
        if (grantpt(master) != 0 || unlockpt(master) != 0 || ptsname_r(master, name, name.Length) != 0)
        {
            _ = close(master);
            return null;
        }

        return new PseudoTerminal(master, Encoding.ASCII.GetString(name, 0, Array.IndexOf(name, (byte)0)));
    }

    /// <summary>Writes octets; waits while the port's buffer is full.</summary>
    public void Write(ReadOnlySpan<byte> octets)
    {
        while (!octets.IsEmpty)
        {
            nint written = write(_master, ref MemoryMarshal.GetReference(octets), octets.Length);
            if (written < 0)
            {
                throw new IOException($"write to a pseudo terminal: error {Marshal.GetLastPInvokeError()}");
            }

            octets = octets[(int)written..];
        }
    }

    /// <summary>Octets that came from the port: what a listener wrote, which must be nothing.</summary>
    public int Heard()
    {
        PollEntry entry = new() { Descriptor = _master, Events = 1 };
        if (poll(ref entry, 1, 0) <= 0 || (entry.Returned & 1) == 0)
        {
            return 0;
        }

        byte[] heard = new byte[4096];
        return (int)Math.Max(0, read(_master, ref heard[0], heard.Length));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!_isClosed)
        {
            _isClosed = true;
            _ = close(_master);
        }
    }

#pragma warning disable SYSLIB1054, IDE1006, CA5392 // plain imports with the names of the C library: no unsafe code in tests
    [DllImport("libc", SetLastError = true)]
    private static extern int posix_openpt(int flags);

    [DllImport("libc", SetLastError = true)]
    private static extern int grantpt(int descriptor);

    [DllImport("libc", SetLastError = true)]
    private static extern int unlockpt(int descriptor);

    [DllImport("libc", SetLastError = true)]
    private static extern int ptsname_r(int descriptor, byte[] name, nint length);

    [DllImport("libc", SetLastError = true)]
    private static extern nint write(int descriptor, ref byte octets, nint length);

    [DllImport("libc", SetLastError = true)]
    private static extern nint read(int descriptor, ref byte octets, nint length);

    [DllImport("libc", SetLastError = true)]
    private static extern int poll(ref PollEntry entry, nint count, int milliseconds);

    [DllImport("libc", SetLastError = true)]
    private static extern int close(int descriptor);
#pragma warning restore SYSLIB1054, IDE1006, CA5392

    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Events;
        public short Returned;
    }
}
