using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Testing.Line;

/// <summary>
/// What a recorder makes of signals: samples at a rate, each edge at the first sample that shows it. Gives records
/// (<see cref="Open"/>) and VCD text.
/// </summary>
public sealed class LineRecording
{
    private const double NanosecondsPerSecond = 1e9;
    private readonly IReadOnlyList<LineTrack> _tracks;
    private readonly List<long>[] _edges;
    private readonly long _ends;

    /// <summary>Records signals.</summary>
    /// <param name="rate">Samples per second.</param>
    /// <param name="tracks">The channels.</param>
    /// <param name="from">Where the recording begins, in nanoseconds of the signals.</param>
    /// <param name="until">Where it ends; null: where the longest signal does.</param>
    public LineRecording(long rate, IReadOnlyList<LineTrack> tracks, double from = 0, double? until = null)
    {
        Rate = rate;
        _tracks = tracks;
        From = from;
        double end = until ?? tracks.Max(track => track.Signal.Now);
        _ends = Sample(end);
        _edges = [.. tracks.Select(track => Sampled(track.Signal))];
    }

    /// <summary>Samples per second.</summary>
    public long Rate { get; }

    /// <summary>Where it begins, in nanoseconds of the signals.</summary>
    public double From { get; }

    /// <summary>Length of a sample in microseconds.</summary>
    public double SampleMicroseconds => 1e6 / Rate;

    /// <summary>The channels.</summary>
    public IReadOnlyList<LineTrack> Tracks => _tracks;

    /// <summary>Sample at which it ends.</summary>
    public long Ends => _ends;

    /// <summary>Samples at which a channel changes, ascending.</summary>
    public IReadOnlyList<long> EdgesOf(int track) => _edges[track];

    /// <summary>Level of a channel at the start.</summary>
    public LineLevel StartLevel(int track)
    {
        bool isMark = _tracks[track].Signal.Edges.TakeWhile(at => at <= From).Count() % 2 == 0;
        return isMark != _tracks[track].IsInverted ? LineLevel.High : LineLevel.Low;
    }

    /// <summary>The recording as a source of edge records.</summary>
    /// <param name="edgesPerRun">Most edges of a record.</param>
    /// <param name="name">Name of the source.</param>
    public LineRecordingSource Open(int edgesPerRun = 4_096, string name = "synthesised line") => new(this, edgesPerRun, name);

    /// <summary>The recording as VCD text, its clock one tick a sample where the rate allows, else 1 ns.</summary>
    public string ToVcd()
    {
        (long ticksPerSecond, string scale) = Rate switch
        {
            1_000_000 => (1_000_000L, "1 us"),
            10_000_000 => (10_000_000L, "100 ns"),
            _ => (1_000_000_000L, "1 ns"),
        };
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"$comment synthesised, {Rate} samples per second $end\n");
        text.Append(CultureInfo.InvariantCulture, $"$timescale {scale} $end\n$scope module line $end\n");
        for (int track = 0; track < _tracks.Count; track++)
        {
            text.Append(CultureInfo.InvariantCulture, $"$var wire 1 {Id(track)} {_tracks[track].Name} $end\n");
        }

        text.Append("$upscope $end\n$enddefinitions $end\n#0\n");
        for (int track = 0; track < _tracks.Count; track++)
        {
            text.Append(StartLevel(track) == LineLevel.High ? '1' : '0').Append(Id(track)).Append('\n');
        }

        IEnumerable<(long Tick, int Track, bool High)> changes = _edges
            .SelectMany((edges, track) => edges.Select((at, index) => (at, track, StartLevel(track) == LineLevel.High == (index % 2 == 1))))
            .OrderBy(change => change.at)
            .ThenBy(change => change.track);
        long last = -1;
        foreach ((long tick, int track, bool high) in changes)
        {
            if (tick != last)
            {
                text.Append('#').Append(Tick(tick, ticksPerSecond)).Append('\n');
                last = tick;
            }

            text.Append(high ? '1' : '0').Append(Id(track)).Append('\n');
        }

        return text.Append('#').Append(Tick(_ends, ticksPerSecond)).Append('\n').ToString();
    }

    private static char Id(int track) => (char)('!' + track);

    private long Tick(long sample, long ticksPerSecond) => (long)((Int128)sample * ticksPerSecond / Rate);

    // An edge shows in the first sample taken at or after it.
    private long Sample(double at) => (long)Math.Ceiling((at - From) * Rate / NanosecondsPerSecond - 1e-6);

    // A pulse that no sample meets is not seen at all.
    private List<long> Sampled(LineSignal signal)
    {
        List<long> seen = [];
        foreach (double at in signal.Edges)
        {
            long sample = Sample(at);
            if (at <= From)
            {
                continue;
            }

            if (seen.Count > 0 && seen[^1] == sample)
            {
                seen.RemoveAt(seen.Count - 1);
            }
            else if (sample < _ends)
            {
                seen.Add(sample);
            }
        }

        return seen;
    }
}
