using DmxProbe.Capture.Live;
using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.Records;
using SharpPcap.LibPcap;

namespace DmxProbe.Capture.Pcap;

/// <summary>
/// <c>nic:NAME</c>: every UDP packet on an interface, also what is addressed to others. Joins nothing, sends nothing. An
/// interface that loses its link or goes is told once; it is opened anew when it is back. Read by one thread.
/// </summary>
internal sealed class NicSource : ILiveSource
{
    private const int ReadMilliseconds = NicDevice.ReadMilliseconds;
    private static readonly Duration LookEvery = Duration.FromSeconds(1);
    private static readonly Duration LongestFinish = Duration.FromSeconds(1);

    private readonly SteadyClock _clock;
    private readonly CaptureInterface[] _interfaces;
    private readonly LiveSettings _settings;
    private readonly Action<LiveNotice> _tell;
    private LibPcapLiveDevice _device;
    private nint _handle;
    private int _descriptor = -1;
    private int _index;
    private Timestamp _now;
    private Timestamp _nextLook;
    private Timestamp _finishBy = Timestamp.MaxValue;
    private long _dropsTold;
    private long _records;
    private bool _isDown;
    private bool _isGone;
    private bool _slept;
    private bool _ended;
    private volatile bool _stop;

    private NicSource(string input, LibPcapLiveDevice device, int index, SteadyClock clock, LiveSettings settings)
    {
        Name = input;
        _device = device;
        _clock = clock;
        _settings = settings;
        Action<LiveNotice> tell = settings.Tell;
        _tell = tell;
        Listen(device, index);
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
        LibPcapLiveDevice device = NicDevice.Open(input, interfaceName, settings, out int index);
        return new NicSource(input, device, index, clock, settings);
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
            // What was opened is gone for good, also where an interface of the same name comes back.
            _isGone = true;
            if (!_isDown)
            {
                WentDown();
                record = Loss(now, 1);
                return ReadStatus.Record;
            }

            using ManualResetEventSlim never = new(false);
            never.Wait(ReadMilliseconds);
        }

        _now = now > _now ? now : _now;
        record = new CaptureRecord { Number = _records, Time = _now, InterfaceId = 0 };
        return ReadStatus.Idle;
    }

    /// <inheritdoc/>
    public void Dispose() => _device.Dispose();

    private void Listen(LibPcapLiveDevice device, int index)
    {
        _device = device;
        _index = index;
        _handle = device.Handle.DangerousGetHandle();
        _dropsTold = 0;
        if (OperatingSystem.IsLinux())
        {
            // There pcap_next_ex waits without end while nothing comes, whatever the read timeout.
            device.NonBlockingMode = true;
            _descriptor = PcapLibrary.Descriptor(_handle);
        }
    }

    // Said once; a lost record each second keeps silence from being blamed on senders.
    private void WentDown()
    {
        _isDown = true;
        _tell(new LiveNotice(
            "interface-down",
            true,
            $"{_device.Name} {(_isGone ? "is gone" : "has no link")}: nothing is heard there until it is back, and what is missing until then is not the network's fault"));
    }

    private void LookAtLink()
    {
        InterfaceInfo? about = _settings.ReadInterfaces().FirstOrDefault(each => each.Name == _device.Name);
        _isGone |= about is null || about.Index != _index;
        bool isUp = about is { IsUp: true };
        if (!_isDown && (_isGone || !isUp))
        {
            WentDown();
        }
        else if (_isDown && isUp && (!_isGone || OpenAnew(about!.Index)))
        {
            _isDown = false;
            _isGone = false;
            _tell(new LiveNotice("interface-up", false, $"{_device.Name} is back"));
        }
    }

    private bool OpenAnew(int index)
    {
        LibPcapLiveDevice? device = NicDevice.TryOpen(_device.Name);
        if (device is null || (LinkType)(int)device.LinkType != _interfaces[0].LinkType)
        {
            device?.Dispose(); // not ready yet, or another kind of interface under the same name
            return false;
        }

        _device.Dispose();
        Listen(device, index);
        return true;
    }

    private bool Look(Timestamp now, out CaptureRecord record)
    {
        _nextLook = now + LookEvery;
        long dropped = PcapLibrary.Dropped(_handle);
        long told = _dropsTold;
        bool wasDown = _isDown;
        _dropsTold = Math.Max(dropped, _dropsTold);
        LookAtLink();
        long lost = Math.Max(0, dropped - told) + (wasDown || _isDown || _slept ? 1 : 0);
        _slept = false;
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
