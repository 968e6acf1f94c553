using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Loss;

/// <summary>
/// Sequence accounting per sender, universe and packet type. sACN data packets of every START code share one count
/// (E1.31-2018 section 6.2.5); ArtDmx and ArtNzs are counted apart. After the protocol's loss time or a termination the
/// count starts afresh: what was missed meanwhile is a silence, not a loss.
/// </summary>
public sealed class SequenceAnalyzer : IAnalyzer
{
    private readonly PerIndex<Track> _data = new();
    private readonly PerIndex<Track> _artNzs = new();
    private int _gaps;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        bool artNet = frame.Universe.Protocol == UniverseProtocol.ArtNet;
        ref Track track = ref (artNet && frame.StartCode != 0 ? _artNzs : _data)[frame.Stream];
        if ((frame.Flags & FrameFlags.SequenceCounted) == 0)
        {
            track.IsFollowing = false;
            return;
        }

        bool fresh = !track.IsFollowing || track.Gaps != _gaps || frame.Time - track.Last > ProtocolTimes.LossOf(frame.Universe.Protocol);
        track.Counted++;
        track.Last = frame.Time;
        track.Gaps = _gaps;
        track.IsFollowing = (frame.Flags & FrameFlags.Terminated) == 0;
        if (fresh)
        {
            track.Previous = frame.Sequence;
            return;
        }

        int step = artNet
            ? SequenceRule.ArtNetStep(track.Previous, frame.Sequence)
            : SequenceRule.SacnStep(track.Previous, frame.Sequence);
        switch (SequenceRule.Classify(step))
        {
            case SequenceStep.Next:
                break;
            case SequenceStep.Gap:
                track.Lost += step - 1;
                track.LossEvents++;
                break;
            case SequenceStep.Repeat:
                track.Repeated++;
                return;
            case SequenceStep.OutOfOrder:
                // It was counted as lost when the later packet came; the last accepted packet stays the reference.
                track.OutOfOrder++;
                track.Lost = Math.Max(0, track.Lost - 1);
                return;
            default:
                track.Restarts++;
                break;
        }

        track.Previous = frame.Sequence;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // The capture did not listen for a while: what is missing from the count is its own loss, told elsewhere.
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            _gaps = unchecked(_gaps + 1);
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>Frames lost of a stream so far; for who asks at every frame.</summary>
    public long LostOf(int stream) =>
        (stream < _data.Count ? _data[stream].Lost : 0) + (stream < _artNzs.Count ? _artNzs[stream].Lost : 0);

    /// <summary>The counts of a stream; ArtDmx and ArtNzs together.</summary>
    public SequenceStatistics Snapshot(int stream)
    {
        Track data = stream < _data.Count ? _data[stream] : default;
        Track nzs = stream < _artNzs.Count ? _artNzs[stream] : default;
        return new SequenceStatistics(
            data.Counted + nzs.Counted,
            data.Lost + nzs.Lost,
            data.OutOfOrder + nzs.OutOfOrder,
            data.Repeated + nzs.Repeated,
            data.Restarts + nzs.Restarts)
        {
            LossEvents = data.LossEvents + nzs.LossEvents,
        };
    }

    /// <summary>Whether a frame just taken is the one that the next is counted from.</summary>
    internal bool Follows(in DmxFrame frame)
    {
        ref Track track = ref _data[frame.Stream];
        return track.IsFollowing && track.Gaps == _gaps && track.Previous == frame.Sequence && track.Last == frame.Time;
    }

    /// <summary>Takes frames of a stream, each with the number after that of the one before it and well within the loss time.</summary>
    internal void Ran(int stream, long frames, byte sequence, Timestamp last)
    {
        ref Track track = ref _data[stream];
        track.Counted += frames;
        track.Last = last;
        track.Previous = sequence;
    }

    private struct Track
    {
        public Timestamp Last;
        public long Counted;
        public long Lost;
        public long OutOfOrder;
        public long Repeated;
        public long Restarts;
        public long LossEvents;
        public int Gaps;
        public byte Previous;
        public bool IsFollowing;
    }
}
