using System.IO.Ports;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Serial;

/// <summary>A port by System.IO.Ports: octets only; which of them came with a break or a framing error it does not say.</summary>
internal sealed class PortableSerialPort : ISerialPort
{
    // Asking whether octets came costs microseconds; a read that times out costs an exception.
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(1);
    private static readonly TimeSpan LongestCall = TimeSpan.FromMilliseconds(500);
    private const int NoTerminal = 25; // ENOTTY: a file or a device that is no serial port
    private readonly SerialPort _port;
    private readonly TimeProvider _clock;
    private readonly byte[] _octets = new byte[SerialSource.LongestRead];
    private readonly ManualResetEventSlim _never = new();
    private int _overruns;

    private PortableSerialPort(SerialPort port, TimeProvider clock)
    {
        _port = port;
        _clock = clock;
    }

    /// <summary>Opens a port.</summary>
    /// <exception cref="InputException">It cannot be opened, or not so.</exception>
    public static PortableSerialPort Open(string input, string path, int bitsPerSecond, StopBits stopBits, TimeProvider clock)
    {
        SerialPort? port = null;
        try
        {
            // Reads and writes end by themselves: after an unplugging a write would hang for ever. Nothing is ever written.
            port = new SerialPort(path, bitsPerSecond, Parity.None, 8, stopBits)
            {
                Handshake = Handshake.None,
                ReadTimeout = (int)LongestCall.TotalMilliseconds,
                WriteTimeout = (int)LongestCall.TotalMilliseconds,
                ReadBufferSize = 65_536,
            };
            port.Open();
            PortableSerialPort opened = new(port, clock);
            port.ErrorReceived += opened.OnError;
            return opened;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException or PlatformNotSupportedException)
        {
            port?.Dispose();
            throw failure switch
            {
                FileNotFoundException or DirectoryNotFoundException => SerialRefusal.Absent(input, path),
                _ when OperatingSystem.IsLinux() && !File.Exists(path) => SerialRefusal.Absent(input, path),
                UnauthorizedAccessException { InnerException.HResult: NoTerminal } when OperatingSystem.IsLinux() => SerialRefusal.NoPort(input, path),
                UnauthorizedAccessException => SerialRefusal.NotAllowed(input, path),
                _ => SerialRefusal.Failed(input, failure.Message),
            };
        }
    }

    /// <inheritdoc/>
    public int Read(Span<byte> target, Duration longest, out bool wasOverrun)
    {
        wasOverrun = false;
        try
        {
            long from = _clock.GetTimestamp();
            TimeSpan wait = TimeSpan.FromTicks(longest.Nanoseconds / 100);
            int waiting;
            while ((waiting = _port.BytesToRead) == 0)
            {
                if (_clock.GetElapsedTime(from) >= wait)
                {
                    // A device file goes with its device; some drivers say nothing else.
                    return _port.PortName.StartsWith('/') && !File.Exists(_port.PortName) ? throw new IOException("the port went away") : 0;
                }

                _never.Wait(BetweenLooks);
            }

            if (waiting < 0)
            {
                throw new IOException("the port went away"); // what Linux answers of a port that hung up
            }

            wasOverrun = Interlocked.Exchange(ref _overruns, 0) > 0;
            int read = _port.Read(_octets, 0, Math.Min(Math.Min(waiting, target.Length), _octets.Length));
            _octets.AsSpan(0, read).CopyTo(target);
            return read;
        }
        catch (TimeoutException)
        {
            return 0;
        }
        catch (Exception gone) when (gone is InvalidOperationException or UnauthorizedAccessException or OperationCanceledException)
        {
            throw new IOException(gone.Message, gone);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _never.Dispose();
        try
        {
            _port.Dispose();
        }
        catch (Exception gone) when (gone is IOException or InvalidOperationException or UnauthorizedAccessException)
        {
            // Closing a port that was unplugged fails on some systems; it is gone either way.
        }
    }

    private void OnError(object sender, SerialErrorReceivedEventArgs error)
    {
        if (error.EventType is SerialError.Overrun or SerialError.RXOver)
        {
            Interlocked.Increment(ref _overruns);
        }
    }
}
