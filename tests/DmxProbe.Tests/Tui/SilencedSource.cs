using DmxProbe.Protocols.Records;

namespace DmxProbe.Tests.Tui;

/// <summary>A recording as a live input on which nothing is heard for a while; time goes on meanwhile.</summary>
/// <param name="source">The recording; disposed with this.</param>
/// <param name="from">Seconds from the first record at which the silence begins.</param>
/// <param name="to">Seconds at which it ends.</param>
internal sealed class SilencedSource(ICaptureSource source, double from, double to) : ICaptureSource
{
    private Timestamp? _first;

    public string Name => source.Name;

    public IReadOnlyList<CaptureInterface> Interfaces => source.Interfaces;

    public InputProblem? Problem => source.Problem;

    public ReadStatus Read(out CaptureRecord record)
    {
        ReadStatus status = source.Read(out record);
        if (status != ReadStatus.Record)
        {
            return status;
        }

        _first ??= record.Time;
        double seconds = (record.Time - _first.Value).TotalSeconds;
        return seconds >= from && seconds < to ? ReadStatus.Idle : status;
    }

    public void Dispose() => source.Dispose();
}
