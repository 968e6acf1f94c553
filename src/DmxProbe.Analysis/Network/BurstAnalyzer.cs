using System.Runtime.CompilerServices;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Packets of one universe that come in heaps: a radio link, or a computer that was busy, holds them back and lets them
/// go at once. Five within 5 ms after a gap of more than 100 ms (common practice, no source). Packets captured twice do
/// not make a heap: a sequence number counts once.
/// </summary>
public sealed class BurstAnalyzer : IAnalyzer
{
    /// <summary>Fewest packets of a burst.</summary>
    public const int Fewest = 5;

    /// <summary>All within this.</summary>
    public static readonly Duration Within = Duration.FromMilliseconds(5);

    /// <summary>After a gap longer than this.</summary>
    public static readonly Duration Gap = Duration.FromMilliseconds(100);

    private readonly PerIndex<Track> _tracks = new();
    private int _gaps;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Track track = ref _tracks[frame.Stream];
        Duration interval = frame.Time - track.Last;
        track.Last = frame.Time;
        if (interval > Gap || track.Count > 0)
        {
            Look(ref track, in frame, interval);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // What the capture itself held back or lost is not the network's doing.
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss })
        {
            _gaps = unchecked(_gaps + 1);
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The bursts of a stream.</summary>
    public BurstSnapshot Snapshot(int stream) => stream < _tracks.Count ? _tracks[stream].Bursts : default;

    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Look(ref Track track, in DmxFrame frame, Duration interval)
    {
        bool isFirst = track.Seen == 0;
        bool isCounted = (frame.Flags & FrameFlags.SequenceCounted) != 0;
        track.Seen = 1;
        if (interval > Gap)
        {
            // Nothing came before the first packet, and a gap of our own is none.
            track.Count = isFirst || track.Gaps != _gaps ? 0 : 1;
            track.Gap = interval;
            track.Began = frame.Time;
            track.Gaps = _gaps;
        }
        else if (frame.Time - track.Began > Within)
        {
            track.Count = 0;
        }
        else if (!isCounted || frame.Sequence != track.Sequence)
        {
            track.Count++;
            Note(ref track, in frame);
        }

        track.Sequence = frame.Sequence;
    }

    private static void Note(ref Track track, in DmxFrame frame)
    {
        BurstSnapshot bursts = track.Bursts;
        if (track.Count == Fewest)
        {
            bursts = bursts with
            {
                Count = bursts.Count + 1,
                First = bursts.Count == 0 ? track.Began : bursts.First,
                FirstRecord = bursts.Count == 0 ? frame.Record : bursts.FirstRecord,
                Last = track.Began,
                LongestGap = track.Gap > bursts.LongestGap ? track.Gap : bursts.LongestGap,
            };
        }

        track.Bursts = track.Count >= Fewest ? bursts with { Largest = Math.Max(bursts.Largest, track.Count) } : bursts;
    }

    private struct Track
    {
        public Timestamp Last;
        public Timestamp Began;
        public Duration Gap;
        public BurstSnapshot Bursts;
        public int Count;
        public int Gaps;
        public byte Seen;
        public byte Sequence;
    }
}
