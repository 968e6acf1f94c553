using System.Buffers.Binary;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Line;

/// <summary>A synthesised recording as records: runs of edges, channel by channel, by time.</summary>
public sealed class LineRecordingSource : ICaptureSource
{
    private readonly LineRecording _recording;
    private readonly int _edgesPerRun;
    private readonly int[] _next;
    private readonly long[] _at;
    private readonly bool[] _ended;
    private readonly CaptureInterface[] _interfaces;
    private byte[] _buffer = [];
    private long _records;

    internal LineRecordingSource(LineRecording recording, int edgesPerRun, string name)
    {
        _recording = recording;
        _edgesPerRun = edgesPerRun;
        Name = name;
        int count = recording.Tracks.Count;
        _next = new int[count];
        _at = new long[count];
        _ended = new bool[count];
        _interfaces = [.. recording.Tracks.Select((track, id) => new CaptureInterface(
            id, track.Name, "", LinkType.None, 0, Duration.FromSeconds(1.0 / recording.Rate), StampedBy.SampleClock)
        {
            Content = InterfaceContent.Line,
            TicksPerSecond = recording.Rate,
        })];
    }

    /// <summary>Moment of the first sample: the start of Harbour Hall's soundcheck, so that it is recognisable.</summary>
    public static Timestamp Start { get; } = HarbourHall.HarbourHallScenario.Start;

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        int channel = -1;
        for (int i = 0; i < _at.Length; i++)
        {
            if (!_ended[i] && (channel < 0 || _at[i] < _at[channel]))
            {
                channel = i;
            }
        }

        if (channel < 0)
        {
            record = default;
            return ReadStatus.End;
        }

        long start = _at[channel];
        int length = Fill(channel);
        record = new CaptureRecord
        {
            Number = ++_records,
            Time = Start + Duration.FromNanoseconds((long)((Int128)start * 1_000_000_000 / _recording.Rate)),
            Kind = RecordKind.Edges,
            InterfaceId = channel,
            OriginalLength = length,
            Data = _buffer.AsSpan(0, length),
        };
        return ReadStatus.Record;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private int Fill(int channel)
    {
        IReadOnlyList<long> edges = _recording.EdgesOf(channel);
        int first = _next[channel];
        int count = Math.Min(_edgesPerRun, edges.Count - first);
        bool isLast = first + count == edges.Count;
        bool startsHigh = (_recording.StartLevel(channel) == LineLevel.High) == (first % 2 == 0);
        int length = EdgeRun.HeaderSize + sizeof(uint) * count;
        if (_buffer.Length < length)
        {
            _buffer = new byte[length];
        }

        long now = _at[channel];
        for (int i = 0; i < count; i++)
        {
            long at = edges[first + i];
            BinaryPrimitives.WriteUInt32LittleEndian(_buffer.AsSpan(EdgeRun.HeaderSize + sizeof(uint) * i), (uint)(at - now));
            now = at;
        }

        // The run goes on to just before the next edge, or to the end.
        long until = isLast ? _recording.Ends : edges[first + count] - 1;
        until = Math.Max(until, now);
        EdgeRunFlags flags = (first == 0 ? EdgeRunFlags.Gap : EdgeRunFlags.None) | (isLast ? EdgeRunFlags.Last : EdgeRunFlags.None);
        EdgeRun.WriteHeader(_buffer, startsHigh ? LineLevel.High : LineLevel.Low, flags, (uint)(until - now), _at[channel]);
        _at[channel] = until;
        _next[channel] = first + count;
        _ended[channel] = isLast;
        return length;
    }
}
