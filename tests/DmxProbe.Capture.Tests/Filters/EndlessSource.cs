using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Filters;

/// <summary>A source that never ends and allocates nothing for a record.</summary>
internal sealed class EndlessSource : ICaptureSource
{
    private readonly byte[] _data = new byte[700];
    private long _number;

    public string Name => "endless";

    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
        [new CaptureInterface(0, "", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Unknown)];

    public InputProblem? Problem => null;

    public ReadStatus Read(out CaptureRecord record)
    {
        _number++;
        record = new CaptureRecord
        {
            Number = _number,
            Time = Timestamp.FromUnixNanoseconds(_number),
            InterfaceId = 0,
            Data = _data,
        };
        return ReadStatus.Record;
    }

    public void Dispose()
    {
    }
}
