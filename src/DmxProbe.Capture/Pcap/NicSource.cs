using DmxProbe.Capture.Live;
using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.Records;
using SharpPcap;
using SharpPcap.LibPcap;

namespace DmxProbe.Capture.Pcap;

/// <summary>
/// <c>nic:NAME</c>: every UDP packet on an interface, also what is addressed to others. Joins nothing, sends nothing. Read by
/// one thread.
/// </summary>
internal sealed class NicSource : ILiveSource
{
    private const int ReadMilliseconds = 20;
    private const int BufferLength = 64 * 1024 * 1024;
    private const string Filter = "udp or (vlan and udp)";
    private static readonly Duration LookEvery = Duration.FromSeconds(1);
    private static readonly Duration LongestFinish = Duration.FromSeconds(1);

    private readonly LibPcapLiveDevice _device;
    private readonly SteadyClock _clock;
    private readonly CaptureInterface[] _interfaces;
    private readonly nint _handle;
    private readonly int _descriptor = -1;
    private readonly Action<LiveNotice> _tell;
    private Timestamp _now;
    private Timestamp _nextLook;
    private Timestamp _finishBy = Timestamp.MaxValue;
    private long _dropsTold;
    private long _records;
    private bool _isDown;
    private bool _slept;
    private bool _ended;
    private volatile bool _stop;

    private NicSource(string input, LibPcapLiveDevice device, SteadyClock clock, Action<LiveNotice> tell)
    {
        Name = input;
        _device = device;
        _clock = clock;
        _tell = tell;
        _handle = device.Handle.DangerousGetHandle();
        if (OperatingSystem.IsLinux())
        {
            // There pcap_next_ex waits without end while nothing comes, whatever the read timeout.
            device.NonBlockingMode = true;
            _descriptor = PcapLibrary.Descriptor(_handle);
        }

        _now = clock.Now();
        _nextLook = _now + LookEvery;
        _interfaces =
        [
            new CaptureInterface(
                0,
                device.Name,
                "everything on the interface, stamped by the kernel or the adapter",
                (LinkType)(int)device.LinkType,
                LiveInterface.SnapLength,
                Duration.FromNanoseconds(1),
                StampedBy.Kernel),
        ];
        clock.Slept = how =>
        {
            _slept = true;
            tell(new LiveNotice("slept", true, FormattableString.Invariant($"this computer slept for {how.TotalSeconds:0} s and heard nothing meanwhile")));
        };
        clock.Stepped = by => tell(new LiveNotice(
            "clock-set",
            false,
            FormattableString.Invariant($"this computer's clock was set {Math.Abs(by.TotalSeconds):0.0} s {(by > Duration.Zero ? "forward" : "back")}; the times of this capture go on as if it had not been")));
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>Opens an interface.</summary>
    /// <param name="input">The input as the person gave it.</param>
    /// <param name="interfaceName">The interface.</param>
    /// <param name="settings">How to listen.</param>
    /// <param name="clock">The capture's time.</param>
    /// <exception cref="InputException">The library, the interface or the privilege is missing.</exception>
    public static NicSource Open(string input, string interfaceName, LiveSettings settings, SteadyClock clock)
    {
        if (!PcapLibrary.IsPresent)
        {
            throw LiveInput.Refused(
                input,
                "listening on a network interface needs libpcap, which is not on this computer",
                "",
                "",
                OperatingSystem.IsWindows() ? "install a libpcap for Windows, or listen with net" : "install it (on Debian: apt install libpcap0.8), or listen with net");
        }

        if (!settings.ReadInterfaces().Any(each => each.Name == interfaceName))
        {
            string known = string.Join(", ", settings.ReadInterfaces().Select(each => each.Name));
            throw LiveInput.Refused(input, "there is no such interface", "one of " + known, $"'{interfaceName}'", "");
        }

        LibPcapLiveDevice? device = null;
        try
        {
            device = LibPcapLiveDeviceList.New().FirstOrDefault(each => each.Name == interfaceName)
                ?? throw NoPrivilege(input, settings);
            device.Open(new DeviceConfiguration
            {
                Mode = DeviceModes.Promiscuous,
                ReadTimeout = ReadMilliseconds,
                Snaplen = LiveInterface.SnapLength,
                BufferSize = BufferLength,
                TimestampResolution = TimestampResolution.Nanosecond,
            });
            device.Filter = Filter;
            return new NicSource(input, device, clock, settings.Tell);
        }
        catch (PcapException refused)
        {
            device?.Dispose();
            bool denied = refused.Error == PcapError.PermissionDenied || refused.Message.Contains("permission", StringComparison.OrdinalIgnoreCase);
            throw denied
                ? NoPrivilege(input, settings)
                : LiveInput.Refused(input, "the interface could not be opened", "", refused.Message, "listen with net instead");
        }
        catch (DllNotFoundException)
        {
            throw LiveInput.Refused(input, "libpcap could not be loaded", "", "", "install it again, or listen with net");
        }
    }

    /// <inheritdoc/>
    public void Stop() => _stop = true;

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (_ended)
        {
            record = default;
            return ReadStatus.End;
        }

        Timestamp now = _clock.Now();
        if (now >= _nextLook && Look(now, out record))
        {
            return ReadStatus.Record;
        }

        if (_stop && _finishBy == Timestamp.MaxValue)
        {
            _finishBy = now + LongestFinish;
        }

        int result = PcapLibrary.Next(_handle, out long stamped, out int originalLength, out ReadOnlySpan<byte> data);
        if (result == 0 && _descriptor >= 0 && !_stop && LinuxNative.WaitFor(_descriptor, ReadMilliseconds))
        {
            result = PcapLibrary.Next(_handle, out stamped, out originalLength, out data);
        }

        if (result == 1 && now <= _finishBy)
        {
            Timestamp time = _clock.Of(stamped);
            _now = time > _now ? time : _now;
            record = new CaptureRecord
            {
                Number = ++_records,
                Time = time,
                InterfaceId = 0,
                LinkType = _interfaces[0].LinkType,
                OriginalLength = Math.Max(originalLength, data.Length),
                Data = data,
            };
            return ReadStatus.Record;
        }

        if (_stop)
        {
            _ended = true;
            return Look(now, out record) ? ReadStatus.Record : ReadStatus.End;
        }

        if (result < 0)
        {
            return Deaf(now, out record);
        }

        if (_isDown)
        {
            _isDown = false;
            _tell(new LiveNotice("interface-up", false, $"{_device.Name} is back"));
        }

        _now = now > _now ? now : _now;
        record = new CaptureRecord { Number = _records, Time = _now, InterfaceId = 0 };
        return ReadStatus.Idle;
    }

    /// <inheritdoc/>
    public void Dispose() => _device.Dispose();

    private static InputException NoPrivilege(string input, LiveSettings settings) => LiveInput.Refused(
        input,
        "listening on a network interface needs a privilege that this program was not given",
        "",
        "",
        OperatingSystem.IsLinux()
            ? $"give it once with 'sudo setcap cap_net_raw+ep {settings.ProgramPath}', or listen with net"
            : "run it as administrator, or listen with net");

    // The interface is down or gone. It says so once, and a lost record each second keeps silence from being blamed on senders.
    private ReadStatus Deaf(Timestamp now, out CaptureRecord record)
    {
        if (!_isDown)
        {
            _isDown = true;
            _tell(new LiveNotice(
                "interface-down",
                true,
                $"{_device.Name} has no link or is gone: nothing is heard there until it is back, and what is missing until then is not the network's fault"));
            record = Loss(now, 1);
            return ReadStatus.Record;
        }

        using ManualResetEventSlim never = new(false);
        never.Wait(ReadMilliseconds);
        record = new CaptureRecord { Number = _records, Time = _now, InterfaceId = 0 };
        return ReadStatus.Idle;
    }

    private bool Look(Timestamp now, out CaptureRecord record)
    {
        _nextLook = now + LookEvery;
        long dropped = PcapLibrary.Dropped(_handle);
        long lost = Math.Max(0, dropped - _dropsTold) + (_isDown || _slept ? 1 : 0);
        _slept = false;
        _dropsTold = Math.Max(dropped, _dropsTold);
        record = Loss(now, lost);
        _records -= lost > 0 ? 0 : 1;
        return lost > 0;
    }

    private CaptureRecord Loss(Timestamp now, long lost)
    {
        _now = now > _now ? now : _now;
        return new CaptureRecord
        {
            Number = ++_records,
            Time = _now,
            Kind = RecordKind.Loss,
            InterfaceId = 0,
            LinkType = _interfaces[0].LinkType,
            LostBefore = lost,
        };
    }
}
