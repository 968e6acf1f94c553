using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>Plays a recording at the pace at which it was made. Not for live inputs.</summary>
/// <param name="source">The recording; disposed with this.</param>
/// <param name="clock">The clock to wait by.</param>
/// <param name="stop">Ends the waiting.</param>
internal sealed class PlayedSource(ICaptureSource source, TimeProvider clock, CancellationToken stop) : ICaptureSource, IMergedSource
{
    // Longer waits are a pause in which nothing was recorded: an hour of nothing is not sat through.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(10);
    private Timestamp? _first;
    private long _started;

    /// <inheritdoc/>
    public string Name => source.Name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => source.Interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => source.Problem;

    /// <inheritdoc/>
    public IReadOnlyList<SourcePart> Parts => source is IMergedSource merged
        ? merged.Parts
        : [new SourcePart(source, [.. source.Interfaces.Select(captureInterface => captureInterface.Id)])];

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        if (stop.IsCancellationRequested)
        {
            record = default;
            return ReadStatus.End;
        }

        ReadStatus status = source.Read(out record);
        if (status != ReadStatus.End)
        {
            if (_first is not Timestamp first)
            {
                _first = first = record.Time;
                _started = clock.GetTimestamp();
            }

            TimeSpan due = TimeSpan.FromTicks((record.Time - first).Nanoseconds / TimeSpan.NanosecondsPerTick) - clock.GetElapsedTime(_started);
            if (due > LongestWait)
            {
                // The time line goes on from here.
                stop.WaitHandle.WaitOne(LongestWait);
                _first = record.Time;
                _started = clock.GetTimestamp();
            }
            else if (due > TimeSpan.FromMilliseconds(1))
            {
                stop.WaitHandle.WaitOne(due);
            }
        }

        return status;
    }

    /// <inheritdoc/>
    public void Dispose() => source.Dispose();
}
