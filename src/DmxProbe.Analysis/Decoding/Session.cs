using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Pulls records from a source, decodes them and pushes what they hold into an analyzer, on the calling thread.</summary>
/// <param name="source">Where records come from; not disposed.</param>
/// <param name="decoder">The decoder with its tables.</param>
/// <param name="analyzer">The analysis; several by <see cref="FanOut"/>.</param>
public sealed class Session(ICaptureSource source, RecordDecoder decoder, IAnalyzer analyzer)
{
    private const int RecordsPerLook = 4096;
    private Timestamp _now = Timestamp.MinValue;

    /// <summary>Runs to the end of the source, or until cancelled.</summary>
    public void Run(CancellationToken cancellation)
    {
        decoder.Interfaces = source.Interfaces;
        int untilLook = RecordsPerLook;
        while (true)
        {
            ReadStatus status = source.Read(out CaptureRecord record);
            if (status == ReadStatus.End)
            {
                break;
            }

            if (record.Time > _now)
            {
                _now = record.Time;
            }

            if (status == ReadStatus.Record)
            {
                decoder.Decode(in record, analyzer);
                if (--untilLook > 0)
                {
                    continue;
                }
            }

            untilLook = RecordsPerLook;
            analyzer.OnTime(_now);
            if (cancellation.IsCancellationRequested)
            {
                break;
            }
        }

        // A run of edges tells of more than the moment it starts at.
        decoder.Finish(analyzer);
        if (decoder.Lines.Until > _now)
        {
            _now = decoder.Lines.Until;
        }

        if (_now > Timestamp.MinValue)
        {
            analyzer.OnTime(_now);
        }
    }
}
