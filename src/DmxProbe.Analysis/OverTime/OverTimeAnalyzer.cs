using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.OverTime;

/// <summary>
/// Frames, changes and losses of each sender on each universe, span by span, for pictures of a whole show. At most
/// <see cref="MostStreams"/> pairs of universe and sender are followed.
/// </summary>
public sealed class OverTimeAnalyzer : IAnalyzer
{
    /// <summary>Most pairs of universe and sender.</summary>
    public const int MostStreams = 1024;

    private const FrameFlags NoLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
    private readonly TimeBins _bins = new();
    private readonly SequenceAnalyzer _sequence = new();
    private readonly List<Track?> _tracks = [];
    private Timestamp _last;

    /// <summary>Begins without anything seen.</summary>
    public OverTimeAnalyzer() => _bins.OnMerge(Merge);

    /// <summary>Pairs that were not followed.</summary>
    public int NotFollowed => Math.Max(0, _tracks.Count - MostStreams);

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        while (_tracks.Count <= frame.Stream)
        {
            _tracks.Add(null);
        }

        int bin = _bins.Of(frame.Time);
        _last = frame.Time > _last ? frame.Time : _last;
        if (frame.Stream >= MostStreams)
        {
            return;
        }

        Track track = _tracks[frame.Stream] ??= new Track(frame.Universe, frame.Sender);
        track.Frames[bin]++;
        long lostBefore = track.LostSoFar;
        _sequence.OnFrame(in frame);
        track.LostSoFar = _sequence.LostOf(frame.Stream);
        track.Lost[bin] += track.LostSoFar - lostBefore;
        if (frame.StartCode == 0 && (frame.Flags & NoLevels) == 0)
        {
            Compare(track, bin, frame.Slots);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => _sequence.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What was seen so far.</summary>
    /// <param name="senders">Who the senders are.</param>
    public OverTimeSnapshot Snapshot(SenderTable senders)
    {
        ArgumentNullException.ThrowIfNull(senders);
        int count = _bins.Count;
        double part = _bins.Start is Timestamp start
            ? Math.Clamp(((((double)_last.UnixNanoseconds - start.UnixNanoseconds) / 1e9) - ((count - 1) * _bins.Width.TotalSeconds)) / _bins.Width.TotalSeconds, 0.02, 1)
            : 1;
        return new OverTimeSnapshot(
            _bins.Start,
            _bins.Width,
            count,
            [
                .. _tracks.OfType<Track>().OrderBy(track => track.Universe).Select(track => new StreamOverTime(
                    track.Universe, senders.Describe(track.Sender), track.Frames[..count], track.Changed[..count], track.Lost[..count])),
            ],
            part);
    }

    private static void Compare(Track track, int bin, ReadOnlySpan<byte> slots)
    {
        Span<byte> before = track.Levels.AsSpan(0, track.SlotCount);
        if (track.HasLevels)
        {
            int shared = Math.Min(slots.Length, before.Length);
            if (!slots[..shared].SequenceEqual(before[..shared]))
            {
                for (int slot = 0; slot < shared; slot++)
                {
                    track.Changed[bin] += slots[slot] == before[slot] ? 0 : 1;
                }
            }
        }

        slots.CopyTo(track.Levels);
        track.SlotCount = slots.Length;
        track.HasLevels = true;
    }

    private void Merge()
    {
        foreach (Track track in _tracks.OfType<Track>())
        {
            Halve(track.Frames);
            Halve(track.Changed);
            Halve(track.Lost);
        }
    }

    private static void Halve(long[] values)
    {
        for (int bin = 0; bin < values.Length; bin++)
        {
            values[bin] = bin < values.Length / 2 ? values[2 * bin] + values[(2 * bin) + 1] : 0;
        }
    }

    private sealed class Track(UniverseId universe, int sender)
    {
        public UniverseId Universe { get; } = universe;

        public int Sender { get; } = sender;

        public long[] Frames { get; } = new long[TimeBins.Most];

        public long[] Changed { get; } = new long[TimeBins.Most];

        public long[] Lost { get; } = new long[TimeBins.Most];

        public byte[] Levels { get; } = new byte[512];

        public int SlotCount { get; set; }

        public bool HasLevels { get; set; }

        public long LostSoFar { get; set; }
    }
}
