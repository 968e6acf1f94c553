using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Serial;

/// <summary>A source of serial records that a test writes down, one port.</summary>
public sealed class SerialRecords(InterfaceContent content) : ICaptureSource
{
    private readonly List<(long Time, byte[] Run, bool IsLoss)> _records = [];
    private int _next;

    /// <inheritdoc/>
    public string Name => "serial records";

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
    [
        new CaptureInterface(0, "ttyTEST", "", LinkType.None, 0, Duration.FromNanoseconds(100), StampedBy.OurRead) { Content = content },
    ];

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>Adds a record.</summary>
    /// <param name="time">Nanoseconds since 1970.</param>
    /// <param name="run">Status and value of each character.</param>
    public SerialRecords Add(long time, byte[] run)
    {
        _records.Add((time, run, false));
        return this;
    }

    /// <summary>Adds a statement that octets were lost.</summary>
    public SerialRecords Lost(long time)
    {
        _records.Add((time, [], true));
        return this;
    }

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (_next == _records.Count)
        {
            record = default;
            return ReadStatus.End;
        }

        (long time, byte[] run, bool isLoss) = _records[_next++];
        record = new CaptureRecord
        {
            Number = _next,
            Time = Timestamp.FromUnixNanoseconds(time),
            InterfaceId = 0,
            Kind = isLoss ? RecordKind.Loss : RecordKind.Serial,
            LostBefore = isLoss ? 1 : 0,
            OriginalLength = run.Length,
            Data = run,
        };
        return ReadStatus.Record;
    }

    /// <summary>Starts again from the first record.</summary>
    public void Rewind() => _next = 0;

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
