using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Keeps the levels of every stream (universe and sender) that a selector lets through: START code 0 only, neither
/// preview nor terminated nor damaged. Where two senders share a universe, each has a history of its own.
/// </summary>
public sealed class SlotHistoryAnalyzer : IAnalyzer
{
    private readonly FrameSelector? _selector;
    private readonly List<SlotHistory?> _streams = [];
    private Timestamp? _start;
    private Timestamp _end;

    /// <summary>Makes the analyzer.</summary>
    /// <param name="start">The capture's first record; null = the first frame that is kept.</param>
    /// <param name="selector">Which frames to keep; null = all.</param>
    public SlotHistoryAnalyzer(Timestamp? start = null, FrameSelector? selector = null)
    {
        _start = start;
        _selector = selector;
        _end = start ?? Timestamp.MinValue;
    }

    /// <summary>
    /// Asked once, at the first frame kept, for the time at which the histories start: the capture's first record need not
    /// be a frame, and traces count their seconds from it.
    /// </summary>
    public Func<Timestamp?>? StartFrom { get; init; }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.Damaged)) != 0 ||
            (_selector is not null && !_selector(in frame)))
        {
            return;
        }

        _start ??= StartFrom?.Invoke() ?? frame.Time;
        _end = frame.Time > _end ? frame.Time : _end;
        while (_streams.Count <= frame.Stream)
        {
            _streams.Add(null);
        }

        SlotHistory history = _streams[frame.Stream] ??= new SlotHistory(frame.Universe, frame.Sender, _start.Value);
        history.Record(frame.Time, frame.Slots);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels are kept.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        // Levels hold until they change: time alone changes nothing.
    }

    /// <summary>The histories in the order of universe and sender, each covering up to the last frame kept of any of them.</summary>
    public IReadOnlyList<SlotHistory> Snapshot()
    {
        List<SlotHistory> found = [.. _streams.OfType<SlotHistory>().OrderBy(history => history.Universe).ThenBy(history => history.Sender)];
        foreach (SlotHistory history in found)
        {
            history.ExtendTo(history.SampleOf(_end));
        }

        return found;
    }
}
