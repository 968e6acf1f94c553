using System.Globalization;
using System.IO.Ports;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;

namespace DmxProbe.Capture.Serial;

/// <summary>
/// Listens to a serial port, stamped by our read. When the port is unplugged it says so once, gives a
/// <see cref="RecordKind.Loss"/> record and goes on when the port is back. It writes nothing, ever.
/// </summary>
public sealed class SerialSource : ILiveSource
{
    /// <summary>Most octets taken in one read.</summary>
    internal const int LongestRead = 4096;

    private const int ReadsAfterStop = 16;
    private readonly Func<ISerialPort> _open;
    private readonly SerialOptions _options;
    private readonly SteadyClock _clock;
    private readonly Action<LiveNotice> _tell;
    private readonly MarkedOctets? _marks;
    private readonly byte[] _octets = new byte[LongestRead];
    private readonly byte[] _run = new byte[(2 * LongestRead) + 2];
    private readonly ManualResetEventSlim _stop = new();
    private ISerialPort? _port;
    private Timestamp _goneAt;
    private Timestamp _lookAgain;
    private long _number;
    private int _readsLeft = ReadsAfterStop;

    private SerialSource(
        string name, CaptureInterface port, Func<ISerialPort> open, MarkedOctets? marks, LiveSettings settings, SerialOptions options)
    {
        Name = name;
        Interfaces = [port];
        _open = open;
        _marks = marks;
        _options = options;
        _tell = settings.Tell;
        _clock = new SteadyClock(settings.Clock);
        _port = open();
    }

    /// <summary>What a framed interface lets one measure, for a list of inputs.</summary>
    public static string FramedMeasures => "slots, START codes, mean rate; not break, mark after break or bit time";

    /// <summary>What a bare port lets one measure here, for a list of inputs.</summary>
    public static string UartMeasures => LinuxUart.IsSupported
        ? "slots, START codes, mean rate, framing errors by slot; not break, mark after break or bit time"
        : "octets only: this system does not say where a break was, so packets cannot be told apart";

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces { get; }

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>Opens an interface that sends framed messages (<c>framed:PORT</c>).</summary>
    /// <param name="port">The port: <c>/dev/ttyUSB0</c>, <c>ttyUSB0</c>, <c>COM3</c>.</param>
    /// <param name="settings">Clock and where notices go.</param>
    /// <param name="options">How to listen; null for the usual.</param>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static SerialSource OpenFramed(string port, LiveSettings settings, SerialOptions? options = null)
    {
        options ??= SerialOptions.Usual;
        string name = "framed:" + port;
        string path = SerialPortName.PathOf(port);
        return new SerialSource(
            name,
            Interface(port, InterfaceContent.SerialFramed, "framed messages of a USB interface, stamped when we read them"),
            () => PortableSerialPort.Open(name, path, options.FramedBitsPerSecond, StopBits.One, settings.Clock),
            null,
            settings,
            options);
    }

    /// <summary>
    /// Opens a bare port at 250 kbit/s, 8N2 (<c>uart:PORT</c>). Where the system cannot mark breaks a notice says so.
    /// </summary>
    /// <param name="port">The port: <c>/dev/ttyUSB0</c>, <c>ttyUSB0</c>, <c>COM3</c>.</param>
    /// <param name="settings">Clock, where notices go, and whether to take the portable way.</param>
    /// <param name="options">How to listen; null for the usual.</param>
    /// <exception cref="InputException">It cannot be opened, or not at that rate.</exception>
    public static SerialSource OpenUart(string port, LiveSettings settings, SerialOptions? options = null)
    {
        options ??= SerialOptions.Usual;
        string name = "uart:" + port;
        string path = SerialPortName.PathOf(port);
        if (LinuxUart.IsSupported && !settings.Portable)
        {
            return new SerialSource(
                name,
                Interface(port, InterfaceContent.SerialUart, "serial port at 250 kbit/s, breaks and framing errors marked by the kernel, stamped when we read them"),
                () => LinuxUart.Open(name, path, options.AskForMarks),
                new MarkedOctets(),
                settings,
                options);
        }

        SerialSource source = new(
            name,
            Interface(port, InterfaceContent.SerialUart, "serial port at 250 kbit/s; this system marks neither breaks nor framing errors"),
            () => PortableSerialPort.Open(name, path, 250_000, StopBits.Two, settings.Clock),
            null,
            settings,
            options);
        settings.Tell(new LiveNotice(
            "serial-no-breaks",
            true,
            $"{name}: this system does not say where a break was, so packets cannot be told apart here; use an interface with framed messages (framed:PORT), or Linux."));
        return source;
    }

    /// <inheritdoc/>
    public void Stop() => _stop.Set();

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        bool stopping = _stop.IsSet;
        if (stopping && (_port is null || --_readsLeft < 0))
        {
            record = default;
            return ReadStatus.End;
        }

        if (_port is null && !Reopen())
        {
            _stop.Wait(TimeSpan.FromTicks(_options.LongestWait.Nanoseconds / 100));
            return Idle(out record);
        }

        try
        {
            int read = _port!.Read(_octets, stopping ? Duration.Zero : _options.LongestWait, out bool wasOverrun);
            if (read > 0)
            {
                int length = Run(_octets.AsSpan(0, read), wasOverrun);
                return length == 0 ? Idle(out record) : Record(RecordKind.Serial, _run.AsSpan(0, length), out record);
            }

            if (!stopping)
            {
                return Idle(out record);
            }

            record = default;
            return ReadStatus.End;
        }
        catch (IOException)
        {
            return Unplugged(out record);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _port?.Dispose();
        _port = null;
        _stop.Set();
    }

    private static CaptureInterface Interface(string port, InterfaceContent content, string description) => new(
        0, SerialPortName.ShortOf(port), description, LinkType.None, 0, Duration.FromMilliseconds(1), StampedBy.OurRead)
    {
        Content = content,
    };

    private int Run(ReadOnlySpan<byte> octets, bool wasOverrun)
    {
        if (_marks is not null)
        {
            return _marks.Read(octets, _run, wasOverrun);
        }

        for (int i = 0; i < octets.Length; i++)
        {
            _run[2 * i] = (byte)(i == 0 && wasOverrun ? SerialStatus.Overrun : SerialStatus.None);
            _run[(2 * i) + 1] = octets[i];
        }

        return 2 * octets.Length;
    }

    private ReadStatus Unplugged(out CaptureRecord record)
    {
        _port!.Dispose();
        _port = null;
        _marks?.Reset();
        _goneAt = _clock.Now();
        _lookAgain = _goneAt + _options.LookAgainEvery;
        _tell(new LiveNotice(
            "serial-unplugged", true, $"{Name}: the port went away (unplugged?); listening goes on when it is back."));
        return Record(RecordKind.Loss, [], out record);
    }

    private bool Reopen()
    {
        Timestamp now = _clock.Now();
        if (now < _lookAgain)
        {
            return false;
        }

        _lookAgain = now + _options.LookAgainEvery;
        try
        {
            _port = _open();
        }
        catch (InputException)
        {
            return false; // still away, or not ready yet
        }

        double away = (now - _goneAt).TotalSeconds;
        _tell(new LiveNotice(
            "serial-back",
            false,
            string.Create(CultureInfo.InvariantCulture, $"{Name}: the port is back after {away:0.0} s; what was sent meanwhile is not in this capture.")));
        return true;
    }

    private ReadStatus Idle(out CaptureRecord record)
    {
        record = new CaptureRecord { Number = _number, Time = _clock.Now(), InterfaceId = 0 };
        return ReadStatus.Idle;
    }

    private ReadStatus Record(RecordKind kind, ReadOnlySpan<byte> data, out CaptureRecord record)
    {
        record = new CaptureRecord
        {
            Number = ++_number,
            Time = _clock.Now(),
            InterfaceId = 0,
            Kind = kind,
            LinkType = LinkType.None,
            OriginalLength = data.Length,
            LostBefore = kind == RecordKind.Loss ? 1 : 0,
            Data = data,
        };
        return ReadStatus.Record;
    }
}
