using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// Times between level frames (START code 0) of each sender on each universe, and the silences between them. A silence
/// longer than the protocol's loss time is a return, not part of the rate; after a termination no interval is measured.
/// </summary>
public sealed class ArrivalAnalyzer : IAnalyzer
{
    /// <summary>Intervals shorter than this are the running rate; longer ones are keep-alive or silence.</summary>
    public static readonly Duration LongestRunning = Duration.FromMilliseconds(250);

    private const int MostBars = 16;
    private const ulong LongestRunningNanoseconds = 250_000_000;
    private readonly PerIndex<Track> _tracks = new();
    private int _gaps;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0)
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        bool ends = (frame.Flags & FrameFlags.Terminated) != 0;
        long since = (frame.Time - track.Last).Nanoseconds;
        if (unchecked((ulong)since) < LongestRunningNanoseconds
            && track.IsPresent
            && track.Gaps == _gaps
            && !ends
            && track.Intervals is IntervalHistogram intervals)
        {
            // The usual case: a sender that runs.
            track.UsualNanoseconds += since;
            track.UsualIntervals++;
            if (intervals.AddAndCompare(since))
            {
                track.LongestFrom = track.Last;
            }

            track.Last = frame.Time;
            return;
        }

        if (track.IsPresent && track.Gaps == _gaps)
        {
            Duration interval = frame.Time - track.Last;
            if (interval > ProtocolTimes.LossOf(frame.Universe.Protocol))
            {
                track.Returns++;
            }
            else if (interval >= Duration.Zero)
            {
                track.PresentNanoseconds += interval.Nanoseconds;
                track.PresentIntervals++;
                if (interval < LongestRunning)
                {
                    track.RunningNanoseconds += interval.Nanoseconds;
                    track.RunningIntervals++;
                }
            }

            if (!ends)
            {
                track.Intervals ??= new IntervalHistogram();
                if (interval > track.Intervals.Maximum)
                {
                    track.LongestFrom = track.Last;
                }

                track.Intervals.Add(interval);
            }
        }
        else if (!track.IsPresent && track.WasPresent && !ends)
        {
            track.Returns++;
        }

        track.IsPresent = !ends;
        track.WasPresent = true;
        track.Last = frame.Time;
        track.Gaps = _gaps;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // While the capture did not listen nobody was silent: the time across such a gap is no interval.
        if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            _gaps = unchecked(_gaps + 1);
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The arrivals of a stream.</summary>
    public ArrivalSnapshot Snapshot(int stream)
    {
        Track track = stream < _tracks.Count ? _tracks[stream] : default;
        return new ArrivalSnapshot(
            track.Intervals?.Snapshot(),
            track.LongestFrom,
            track.PresentIntervals + track.UsualIntervals,
            Duration.FromNanoseconds(track.PresentNanoseconds + track.UsualNanoseconds),
            track.RunningIntervals + track.UsualIntervals,
            Duration.FromNanoseconds(track.RunningNanoseconds + track.UsualNanoseconds),
            track.Returns,
            track.WasPresent && !track.IsPresent,
            Spread(track))
        {
            Bars = track.Intervals?.Bars(MostBars) ?? [],
        };
    }

    /// <summary>The histogram of a stream that is present and was measured; its bins are kept up by <see cref="Survey.RunningStreams"/>.</summary>
    /// <param name="frame">The frame last taken.</param>
    internal IntervalHistogram? RunningOf(in DmxFrame frame)
    {
        ref Track track = ref _tracks[frame.Stream];
        return track.IsPresent && track.Gaps == _gaps && track.Last == frame.Time ? track.Intervals : null;
    }

    /// <summary>Takes frames of a stream that runs, whose intervals are in the bins already.</summary>
    internal void Ran(int stream, long frames, long shortest, long longest, Timestamp longestFrom, Timestamp last)
    {
        ref Track track = ref _tracks[stream];
        long nanoseconds = (last - track.Last).Nanoseconds;
        track.UsualNanoseconds += nanoseconds;
        track.UsualIntervals += frames;
        if (track.Intervals!.AddCounted(frames, nanoseconds, shortest, longest))
        {
            track.LongestFrom = longestFrom;
        }

        track.Last = last;
    }

    private static RunningSpread? Spread(Track track) => track.Intervals is null || track.RunningIntervals + track.UsualIntervals == 0
        ? null
        : new RunningSpread(
            track.Intervals.PercentileBelow(0.01, LongestRunning),
            track.Intervals.PercentileBelow(0.25, LongestRunning),
            track.Intervals.PercentileBelow(0.50, LongestRunning),
            track.Intervals.PercentileBelow(0.75, LongestRunning),
            track.Intervals.PercentileBelow(0.99, LongestRunning));

    private struct Track
    {
        public IntervalHistogram? Intervals;
        public Timestamp Last;
        public Timestamp LongestFrom;
        public long UsualNanoseconds;
        public long UsualIntervals;
        public long PresentNanoseconds;
        public long PresentIntervals;
        public long RunningNanoseconds;
        public long RunningIntervals;
        public long Returns;
        public int Gaps;
        public bool IsPresent;
        public bool WasPresent;
    }
}
