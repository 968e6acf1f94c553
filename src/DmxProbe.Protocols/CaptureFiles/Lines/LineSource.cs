using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>What all line recordings have in common: slices of time, handed out run by run.</summary>
/// <param name="window">The recording, standing where its data begins; disposed with the source.</param>
/// <param name="name">Name to print; untrusted text.</param>
/// <param name="channels">Number of channels.</param>
/// <param name="ticksPerSecond">Clock of the edge runs.</param>
internal abstract class LineSource(ByteWindow window, string name, int channels, long ticksPerSecond) : ILineSource
{
    /// <summary>Most channels of one recording; what is beyond is left out and said.</summary>
    public const int MostChannels = 64;

    /// <summary>A recording longer than this is taken for damage: seven days.</summary>
    public const long LongestSeconds = 7 * 86_400;

    private const long NanosecondsPerSecond = 1_000_000_000;

    private readonly List<CaptureInterface> _interfaces = [];
    private readonly List<string> _assumptions = [];
    private int _next;
    private long _number;
    private bool _ended;

    /// <inheritdoc/>
    public string Name { get; } = name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => _interfaces;

    /// <inheritdoc/>
    public IReadOnlyList<string> Assumptions => _assumptions;

    /// <inheritdoc/>
    public InputProblem? Problem { get; protected set; }

    /// <summary>The recording.</summary>
    protected ByteWindow Window { get; } = window;

    /// <summary>The slice being filled or handed out.</summary>
    protected EdgeSlice Slice { get; } = new(channels);

    /// <summary>Clock of the edge runs.</summary>
    protected long TicksPerSecond { get; } = ticksPerSecond;

    /// <summary>Ticks of a slice: a quarter of a second.</summary>
    protected long SliceTicks { get; } = Math.Max(1, ticksPerSecond / 4);

    /// <summary>Last tick that may occur.</summary>
    protected long LastTick { get; } = (long)Int128.Min((Int128)ticksPerSecond * LongestSeconds, long.MaxValue / 2);

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        while (_next == Slice.Runs.Count)
        {
            if (_ended)
            {
                record = default;
                return ReadStatus.End;
            }

            NextSlice();
        }

        SliceRun run = Slice.Runs[_next++];
        record = new CaptureRecord
        {
            Number = ++_number,
            Time = TimeOf(run.StartTick),
            Kind = RecordKind.Edges,
            InterfaceId = run.Channel,
            LinkType = LinkType.None,
            OriginalLength = run.Cells * sizeof(uint),
            Data = Slice.Bytes(run),
        };
        return ReadStatus.Record;
    }

    /// <inheritdoc/>
    public void Dispose() => Window.Dispose();

    /// <summary>Reads the first slice, so that the channels and what is wrong at once are known.</summary>
    public void Start() => NextSlice();

    /// <summary>Says what was assumed.</summary>
    protected void Assume(string sentence) => _assumptions.Add(sentence);

    /// <summary>Fills the slice and closes it.</summary>
    /// <returns>False when it is the last.</returns>
    protected abstract bool FillSlice();

    /// <summary>Describes the channels; called once, when the first slice is closed.</summary>
    protected abstract IEnumerable<CaptureInterface> Describe();

    /// <summary>A channel's interface.</summary>
    protected CaptureInterface Interface(int id, string channelName, string description, Duration resolution) =>
        new(id, channelName, description, LinkType.None, 0, resolution, StampedBy.SampleClock)
        {
            Content = InterfaceContent.Line,
            TicksPerSecond = TicksPerSecond,
        };

    /// <summary>A number of ticks as a time, rounded up to whole nanoseconds.</summary>
    protected Duration DurationOf(double ticks) =>
        Duration.FromNanoseconds(Math.Max(1, (long)Math.Ceiling((ticks * NanosecondsPerSecond / TicksPerSecond) - 1e-6)));

    private Timestamp TimeOf(long tick) =>
        Timestamp.FromUnixNanoseconds((long)((Int128)tick * NanosecondsPerSecond / TicksPerSecond));

    private void NextSlice()
    {
        if (_interfaces.Count > 0)
        {
            Slice.Open();
        }

        _next = 0;
        _ended = !FillSlice();
        if (_interfaces.Count == 0)
        {
            _interfaces.AddRange(Describe());
        }
    }
}
