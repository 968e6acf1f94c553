using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Filters;

/// <summary>
/// Gives live listening an end: after a length of the capture's own time, or when asked. What arrived until then is still
/// delivered and what was lost is told, so that the count is exact. Owns its source.
/// </summary>
/// <param name="inner">What is read: a live source, or several and files merged.</param>
/// <param name="live">The live sources within it.</param>
/// <param name="clock">The clock; only for how long ending may take.</param>
/// <param name="length">How long to listen, from the first time a live source tells; null: until asked.</param>
/// <param name="stop">Asks it to end.</param>
public sealed class EndingSource(
    ICaptureSource inner, IReadOnlyList<ILiveSource> live, TimeProvider clock, Duration? length, CancellationToken stop) : IMergedSource
{
    private static readonly TimeSpan LongestEnding = TimeSpan.FromSeconds(3);

    private readonly long _begun = clock.GetUtcNow().UtcTicks;
    private Timestamp _start = Timestamp.MinValue;
    private Timestamp _end = Timestamp.MaxValue;
    private long _endingSince;
    private bool _ending;

    /// <inheritdoc/>
    public string Name => inner.Name;

    /// <inheritdoc/>
    public IReadOnlyList<CaptureInterface> Interfaces => inner.Interfaces;

    /// <inheritdoc/>
    public InputProblem? Problem => inner.Problem;

    /// <inheritdoc/>
    public IReadOnlyList<SourcePart> Parts => inner is IMergedSource merged
        ? merged.Parts
        : [new SourcePart(inner, [.. inner.Interfaces.Select(each => each.Id)])];

    /// <inheritdoc/>
    public ReadStatus Read(out CaptureRecord record)
    {
        while (true)
        {
            if (!_ending && stop.IsCancellationRequested)
            {
                BeginEnding();
            }

            if (_ending && clock.GetElapsedTime(_endingSince) > LongestEnding)
            {
                record = default;
                return ReadStatus.End;
            }

            ReadStatus status = inner.Read(out record);
            if (status == ReadStatus.End)
            {
                return status;
            }

            // A merged file may be of another day: only times from the start of listening count.
            if (record.Time.UnixNanoseconds / 100 >= _begun - DateTime.UnixEpoch.Ticks - TimeSpan.TicksPerSecond && _start == Timestamp.MinValue)
            {
                _start = record.Time;
                _end = length is Duration some ? _start + some : Timestamp.MaxValue;
            }

            if (record.Time < _end)
            {
                return status;
            }

            if (!_ending)
            {
                BeginEnding();
            }

            if (status == ReadStatus.Record && record.Kind == RecordKind.Loss)
            {
                return status;
            }
        }
    }

    /// <inheritdoc/>
    public void Dispose() => inner.Dispose();

    private void BeginEnding()
    {
        _ending = true;
        _endingSince = clock.GetTimestamp();
        foreach (ILiveSource each in live)
        {
            each.Stop();
        }
    }
}
