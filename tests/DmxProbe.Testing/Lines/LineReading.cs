using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Lines;

/// <summary>A line recording read to its end, its runs joined again; checks on the way what every source must keep to.</summary>
public sealed class LineReading
{
    public required IReadOnlyList<CaptureInterface> Interfaces { get; init; }

    public required IReadOnlyList<LineTrack> Tracks { get; init; }

    public required IReadOnlyList<string> Assumptions { get; init; }

    public required InputProblem? Problem { get; init; }

    public required int Records { get; init; }

    /// <summary>Reads the octets of a file.</summary>
    public static LineReading Of(byte[] file, LineFileOptions? options = null) => Of(new MemoryStream(file), options);

    /// <summary>Reads text.</summary>
    public static LineReading Of(string text, LineFileOptions? options = null) => Of(System.Text.Encoding.UTF8.GetBytes(text), options);

    /// <summary>Reads a stream.</summary>
    public static LineReading Of(Stream stream, LineFileOptions? options = null)
    {
        using ICaptureSource source = CaptureFileReader.Open(stream, "test", options ?? LineFileOptions.None);
        return Of((ILineSource)source);
    }

    /// <summary>Reads a source.</summary>
    /// <exception cref="InvalidOperationException">It broke a rule of the contract.</exception>
    public static LineReading Of(ILineSource source)
    {
        List<LineTrack> tracks = [];
        Timestamp before = Timestamp.MinValue;
        int records = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            records++;
            CaptureInterface face = source.Interfaces[record.InterfaceId];
            Keep(record.Kind == RecordKind.Edges && record.LinkType == LinkType.None && record.Number == records, "an edge record, numbered");
            Keep(face.Content == InterfaceContent.Line && face.StampedBy == StampedBy.SampleClock && face.TicksPerSecond > 0 && face.Resolution > Duration.Zero, "a line interface");
            Keep(record.Time >= before, "runs ordered by time");
            before = record.Time;
            Keep(EdgeRun.TryParse(record.Data, out EdgeRun run), "a run that can be read");
            Keep(record.Time == Timestamp.FromUnixNanoseconds((long)((Int128)run.StartTick * 1_000_000_000 / face.TicksPerSecond)), "the time of the start");
            while (tracks.Count < source.Interfaces.Count)
            {
                tracks.Add(new LineTrack());
            }

            tracks[record.InterfaceId].Add(in run);
        }

        Keep(source.Read(out _) == ReadStatus.End, "an end that stays one");
        Keep(tracks.TrueForAll(track => track.Ended), "a last run on every channel");
        return new LineReading
        {
            Interfaces = [.. source.Interfaces],
            Tracks = tracks,
            Assumptions = [.. source.Assumptions],
            Problem = source.Problem,
            Records = records,
        };
    }

    internal static void Keep(bool kept, string rule)
    {
        if (!kept)
        {
            throw new InvalidOperationException("the source broke a rule: expected " + rule);
        }
    }
}
