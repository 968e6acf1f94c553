using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>A capture source over Ethernet frames put together by hand, sorted by time.</summary>
public sealed class FrameSource : ICaptureSource
{
    private readonly List<(Timestamp Time, int InterfaceId, byte[] Frame)> _frames = [];
    private int _next;

    /// <summary>Time 0.</summary>
    public static Timestamp Start { get; } = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);

    /// <inheritdoc/>
    public string Name => "frames by hand";

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces { get; } =
    [
        new CaptureInterface(0, "mirror", "mirror port", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Adapter),
        new CaptureInterface(1, "other", "second port", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Adapter),
    ];

    /// <inheritdoc/>
    public InputProblem? Problem => null;

    /// <summary>Adds a frame.</summary>
    /// <param name="seconds">When, since <see cref="Start"/>.</param>
    /// <param name="frame">The frame.</param>
    /// <param name="interfaceId">0 or 1.</param>
    public FrameSource At(double seconds, byte[] frame, int interfaceId = 0)
    {
        _frames.Add((Start + Duration.FromNanoseconds((long)(seconds * 1e9)), interfaceId, frame));
        return this;
    }

    /// <summary>Adds frames at a steady pace.</summary>
    /// <param name="from">When the first comes, in seconds.</param>
    /// <param name="until">Before this.</param>
    /// <param name="every">Seconds between them.</param>
    /// <param name="frame">The frame of a number, from 0.</param>
    public FrameSource Every(double from, double until, double every, Func<int, byte[]> frame)
    {
        for (int i = 0; from + (i * every) < until; i++)
        {
            At(from + (i * every), frame(i));
        }

        return this;
    }

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (_next == 0)
        {
            List<(Timestamp Time, int InterfaceId, byte[] Frame)> sorted = [.. _frames.OrderBy(each => each.Time)];
            _frames.Clear();
            _frames.AddRange(sorted);
        }

        if (_next == _frames.Count)
        {
            record = new CaptureRecord { Number = _next, Time = Start, InterfaceId = 0 };
            return ReadStatus.End;
        }

        (Timestamp time, int interfaceId, byte[] frame) = _frames[_next++];
        record = new CaptureRecord
        {
            Number = _next,
            Time = time,
            Kind = RecordKind.Packet,
            InterfaceId = interfaceId,
            LinkType = LinkType.Ethernet,
            OriginalLength = frame.Length,
            Data = frame,
        };
        return ReadStatus.Record;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
