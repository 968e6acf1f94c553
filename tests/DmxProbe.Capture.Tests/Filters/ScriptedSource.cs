using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Filters;

/// <summary>A source that gives what the test tells it to, in that order, then the end.</summary>
internal sealed class ScriptedSource(string name) : ICaptureSource
{
    private readonly Queue<(ReadStatus Status, long Time, int InterfaceId, byte[] Data, long Lost)> _script = new();
    private readonly List<CaptureInterface> _interfaces = [];
    private readonly byte[] _buffer = new byte[10_000];
    private long _number;

    public string Name => name;

    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    public InputProblem? Problem { get; private set; }

    /// <summary>What <see cref="Problem"/> is to be after the end.</summary>
    public InputProblem? Ending { get; init; }

    public bool IsDisposed { get; private set; }

    /// <summary>How often it was asked.</summary>
    public int Reads { get; private set; }

    public ScriptedSource Packet(long time, byte[] data, int interfaceId = 0)
    {
        _script.Enqueue((ReadStatus.Record, time, interfaceId, data, 0));
        return this;
    }

    public ScriptedSource Packet(long time, byte octet, int interfaceId = 0) => Packet(time, [octet], interfaceId);

    public ScriptedSource Loss(long time, long lost, int interfaceId = 0)
    {
        _script.Enqueue((ReadStatus.Record, time, interfaceId, [], lost));
        return this;
    }

    public ScriptedSource Idle(long until)
    {
        _script.Enqueue((ReadStatus.Idle, until, 0, [], 0));
        return this;
    }

    public ReadStatus Read(out CaptureRecord record)
    {
        Reads++;
        // What was given out before is no longer valid: whoever still uses it sees it.
        _buffer.AsSpan().Fill(0xEE);
        if (!_script.TryDequeue(out (ReadStatus Status, long Time, int InterfaceId, byte[] Data, long Lost) next))
        {
            Problem = Ending;
            record = default;
            return ReadStatus.End;
        }

        if (next.Status == ReadStatus.Idle)
        {
            record = new CaptureRecord { Number = _number, Time = Timestamp.FromUnixNanoseconds(next.Time), InterfaceId = 0 };
            return ReadStatus.Idle;
        }

        while (_interfaces.Count <= next.InterfaceId)
        {
            _interfaces.Add(new CaptureInterface(
                _interfaces.Count, $"{name}{_interfaces.Count}", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Unknown));
        }

        next.Data.CopyTo(_buffer, 0);
        record = new CaptureRecord
        {
            Number = ++_number,
            Time = Timestamp.FromUnixNanoseconds(next.Time),
            HasTime = next.Time != 0,
            Kind = next.Lost > 0 ? RecordKind.Loss : RecordKind.Packet,
            InterfaceId = next.InterfaceId,
            LinkType = LinkType.Ethernet,
            OriginalLength = next.Data.Length + 4,
            LostBefore = next.Lost,
            Data = _buffer.AsSpan(0, next.Data.Length),
        };
        return ReadStatus.Record;
    }

    public void Dispose() => IsDisposed = true;
}
