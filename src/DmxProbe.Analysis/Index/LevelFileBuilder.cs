using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// Makes the review files of parts of a recording that follow each other. Reading begins one part earlier, so that the
/// decoder knows what was sent across the border.
/// </summary>
/// <param name="recording">The recording.</param>
/// <param name="progress">Told after each part, with its number.</param>
internal sealed class LevelFileBuilder(IPartedRecording recording, Action<int> progress)
{
    private const long MostOctetsInBlock = 48 * 1024 * 1024;
    private const int RecordsPerLook = 4096;

    /// <summary>Why reading ended early; null where it did not.</summary>
    public InputProblem? Problem { get; private set; }

    /// <summary>Makes them.</summary>
    /// <param name="first">The first part to make.</param>
    /// <param name="last">The last; of the same lane.</param>
    /// <param name="cancellation">Stops; parts not finished are then made next time.</param>
    /// <exception cref="IOException">There is no room for them.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public void Make(int first, int last, CancellationToken cancellation)
    {
        int from = first > 0 && recording.Parts[first - 1].Lane == recording.Parts[first].Lane ? first - 1 : first;
        using IPartedSource source = recording.Open(from);
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        LevelCollector collector = new();
        int making = first - 1; // the part that is open now
        IBesideFile? file = null;
        LevelFileWriter? writer = null;
        try
        {
            int untilLook = RecordsPerLook;
            bool more = true;
            while (more)
            {
                more = source.Read(out CaptureRecord record) == ReadStatus.Record;
                Problem = more ? null : source.Problem;
                int part = more ? Math.Min(source.Part, last + 1) : last + 1;
                while (making < part && part >= first)
                {
                    if (writer is not null)
                    {
                        if (making == last)
                        {
                            decoder.Finish(collector);
                        }

                        Close(making, file!, writer, collector, decoder);
                        (file, writer) = (null, null);
                    }

                    if (++making <= last)
                    {
                        file = recording.CreateBeside(making);
                        writer = new LevelFileWriter(file.Stream);
                        collector.IsOn = true;
                    }
                }

                if (making > last)
                {
                    return;
                }

                decoder.Decode(in record, collector);
                if (collector.Octets > MostOctetsInBlock)
                {
                    writer!.WriteBlock(collector.Tracks);
                    collector.Clear();
                }

                if (--untilLook == 0)
                {
                    cancellation.ThrowIfCancellationRequested();
                    untilLook = RecordsPerLook;
                }
            }
        }
        finally
        {
            file?.Dispose();
        }
    }

    private void Close(int part, IBesideFile file, LevelFileWriter writer, LevelCollector collector, RecordDecoder decoder)
    {
        using (file)
        {
            writer.WriteBlock(collector.Tracks);
            collector.Clear();
            writer.Finish(
                recording.Parts[part],
                [
                    .. Enumerable.Range(0, decoder.Streams.Count).Select(stream => new ReviewStream(
                        decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)),
                        decoder.Senders.Describe(decoder.Streams.SenderOf(stream)))),
                ]);
            file.Commit();
        }

        progress(part);
    }
}
