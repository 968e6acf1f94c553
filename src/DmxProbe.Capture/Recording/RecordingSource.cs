using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// A source whose records are recorded as they pass: whatever reads it sees what it would have seen, and the marks. Owns the
/// source, not the recorder.
/// </summary>
public sealed class RecordingSource(ICaptureSource inner, Recorder recorder) : ICaptureSource
{
    // A mark of another hour than the records around it (a recording played in) takes their time.
    private static readonly Duration SameMoment = Duration.FromSeconds(3_600);

    private readonly List<CaptureInterface> _interfaces = [];
    private readonly List<int> _numbers = [];
    private readonly int[] _markChannels = [-1, -1];
    private byte[] _mark = [];
    private long _records;
    private Timestamp _last = Timestamp.MinValue;

    /// <inheritdoc/>
    public string Name => inner.Name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => inner.Problem;

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (recorder.TryTakeMark(out PendingMark? mark))
        {
            record = Deliver(mark!);
            return ReadStatus.Record;
        }

        ReadStatus status = inner.Read(out CaptureRecord read);
        if (status != ReadStatus.Record)
        {
            record = read;
            return status;
        }

        while (_numbers.Count <= read.InterfaceId)
        {
            CaptureInterface face = inner.Interfaces[_numbers.Count];
            _numbers.Add(_interfaces.Count);
            _interfaces.Add(face with { Id = _interfaces.Count });
        }

        _last = read.Time;
        record = new CaptureRecord
        {
            Number = ++_records,
            Time = read.Time,
            HasTime = read.HasTime,
            Kind = read.Kind,
            InterfaceId = _numbers[read.InterfaceId],
            LinkType = read.LinkType,
            OriginalLength = read.OriginalLength,
            LostBefore = read.LostBefore,
            Data = read.Data,
        };
        recorder.Write(in record, _interfaces[record.InterfaceId]);
        return ReadStatus.Record;
    }

    /// <inheritdoc/>
    public void Dispose() => inner.Dispose();

    private CaptureRecord Deliver(PendingMark mark)
    {
        Timestamp time = mark.Time;
        if (mark.SpoolFile is null && _last > Timestamp.MinValue && (time - _last > SameMoment || _last - time > SameMoment))
        {
            time = _last;
        }

        _mark = mark.Text;
        CaptureRecord record = new()
        {
            Number = ++_records,
            Time = time,
            Kind = RecordKind.Mark,
            InterfaceId = ChannelOf(mark.IsNotice),
            LinkType = LinkType.None,
            OriginalLength = _mark.Length,
            Data = _mark,
        };
        recorder.Write(in record, _interfaces[record.InterfaceId]);
        recorder.MarkWritten(mark);
        return record;
    }

    private int ChannelOf(bool isNotice)
    {
        ref int channel = ref _markChannels[isNotice ? 1 : 0];
        if (channel < 0)
        {
            channel = _interfaces.Count;
            _interfaces.Add(new CaptureInterface(
                channel,
                isNotice ? "notices" : "marks",
                isNotice ? "what the program noted itself" : "what the operator marked",
                LinkType.None,
                0,
                Duration.FromNanoseconds(100),
                StampedBy.OurRead)
            { Content = InterfaceContent.Marks });
        }

        return channel;
    }
}
