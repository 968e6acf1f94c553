using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Decoding.Line;

/// <summary>A line recording decoded from beginning to end, and everything it gave.</summary>
internal sealed class LineRun : IAnalyzer
{
    public List<(UniverseId Universe, byte StartCode, byte[] Slots, FrameFlags Flags, Timestamp Time)> Frames { get; } = [];

    public List<LineTiming> Timings { get; } = [];

    public List<LinkEvent> Events { get; } = [];

    public required RecordDecoder Decoder { get; init; }

    public IReadOnlyList<LineChannelSummary> Channels => Decoder.Lines.Snapshot();

    public static LineRun Of(ICaptureSource source, LineOptions? options = null)
    {
        LineRun run = new() { Decoder = new RecordDecoder(options ?? LineOptions.Found) };
        new Session(source, run.Decoder, run).Run(CancellationToken.None);
        return run;
    }

    public void OnFrame(in DmxFrame frame) =>
        Frames.Add((frame.Universe, frame.StartCode, frame.Slots.ToArray(), frame.Flags, frame.Time));

    public void OnLineTiming(in LineTiming timing) => Timings.Add(timing);

    public void OnEvent(in LinkEvent linkEvent) => Events.Add(linkEvent);

    public void OnTime(Timestamp now)
    {
    }
}
