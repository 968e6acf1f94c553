using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>
/// Keeps the level frames of one tap for comparing: START code 0, no preview. Bounded: slots are kept once for frames that
/// repeat them, up to 64 MiB in all and two million frames; from then on nothing more is kept.
/// </summary>
public sealed class TapRecorder : IAnalyzer
{
    private const long MostOctets = 64L * 1024 * 1024;
    private const int MostFrames = 2_000_000;

    private readonly List<List<TapFrame>?> _frames = [];
    private readonly List<byte[]> _contents = [];
    private readonly SequenceAnalyzer _sequence = new();
    private long _octets;
    private int _count;
    private bool _isFull;
    private Timestamp _last = Timestamp.MinValue;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        _sequence.OnFrame(in frame); // sACN counts all START codes and previews together
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Preview | FrameFlags.SlotsCut)) != 0 || _isFull)
        {
            return;
        }

        while (_frames.Count <= frame.Stream)
        {
            _frames.Add(null);
        }

        List<TapFrame> frames = _frames[frame.Stream] ??= [];
        int content = frames.Count > 0 ? frames[^1].Content : -1;
        if (content < 0 || !frame.Slots.SequenceEqual(_contents[content]))
        {
            content = _contents.Count;
            _contents.Add(frame.Slots.ToArray());
            _octets += frame.Slots.Length + 32;
        }

        frames.Add(new TapFrame(
            frame.Time,
            content,
            frame.Priority,
            (frame.Flags & FrameFlags.Terminated) != 0,
            (frame.Flags & FrameFlags.Damaged) != 0,
            (frame.Flags & FrameFlags.SequenceCounted) != 0 ? _sequence.LostOf(frame.Stream) : -1));
        _last = frame.Time > _last ? frame.Time : _last;
        _isFull = ++_count >= MostFrames || _octets >= MostOctets;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => _sequence.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        if (!_isFull && now > _last)
        {
            _last = now;
        }
    }

    /// <summary>What was kept.</summary>
    /// <param name="decoder">The decoder that fed this.</param>
    public TapRecording Snapshot(RecordDecoder decoder)
    {
        List<TapStream> streams = [];
        for (int stream = 0; stream < _frames.Count; stream++)
        {
            if (_frames[stream] is { } frames)
            {
                streams.Add(new TapStream(
                    decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)),
                    decoder.Senders.Describe(decoder.Streams.SenderOf(stream)),
                    [.. frames]));
            }
        }

        return new TapRecording(
            [.. streams.OrderBy(each => each.Universe)],
            [.. _contents],
            _last,
            !_isFull,
            decoder.Interfaces.Any(each => each.StampedBy == StampedBy.SampleClock),
            Resolution(decoder.Interfaces));
    }

    private static Duration Resolution(IReadOnlyList<CaptureInterface> interfaces)
    {
        bool hasPort = interfaces.Any(each => each.Content is InterfaceContent.SerialUart or InterfaceContent.SerialFramed);
        Duration lump = hasPort ? Duration.FromSeconds(SerialTiming.LumpMilliseconds / 1e3) : Duration.Zero;
        return lump + interfaces.Select(each => each.Resolution).DefaultIfEmpty(Duration.Zero).Max();
    }
}
