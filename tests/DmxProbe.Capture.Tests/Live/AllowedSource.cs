using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Live;

/// <summary>A live source that gives numbered records, as many as the test allows at a time.</summary>
internal sealed class AllowedSource : ILiveSource
{
    private readonly byte[] _data = new byte[700];
    private long _allowed;
    private long _given;
    private volatile bool _stop;

    public string Name => "allowed";

    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
        [new CaptureInterface(0, "allowed", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Kernel)];

    public InputProblem? Problem => null;

    public static Timestamp TimeOf(long number) => Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000 + (number * 1_000_000));

    public void Allow(long more) => Interlocked.Add(ref _allowed, more);

    public void Stop() => _stop = true;

    public bool HasGivenAll => Interlocked.Read(ref _given) == Interlocked.Read(ref _allowed);

    public ReadStatus Read(out CaptureRecord record)
    {
        if (_given < Interlocked.Read(ref _allowed))
        {
            Interlocked.Increment(ref _given);
            BitConverter.TryWriteBytes(_data, _given);
            record = new CaptureRecord { Number = _given, Time = TimeOf(_given), InterfaceId = 0, LinkType = LinkType.Ethernet, OriginalLength = 700, Data = _data.AsSpan(0, (int)(8 + (_given % 600))) };
            return ReadStatus.Record;
        }

        record = new CaptureRecord { Number = _given, Time = TimeOf(_given), InterfaceId = 0 };
        return _stop ? ReadStatus.End : ReadStatus.Idle;
    }

    public void Dispose()
    {
    }
}
