using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>Keeps every frame and event of a decoder.</summary>
internal sealed class FrameCollector : IFrameSink
{
    public RecordDecoder Decoder { get; init; } = new();

    public List<CollectedFrame> Frames { get; } = [];

    public List<LinkEvent> Events { get; } = [];

    /// <summary>Decodes a capture file to its end.</summary>
    public static FrameCollector OfFile(string path)
    {
        FrameCollector collector = new();
        using ICaptureSource source = CaptureFile.Open(path);
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            collector.Decoder.Decode(in record, collector);
        }

        Assert.Null(source.Problem);
        return collector;
    }

    /// <summary>Decodes one Ethernet frame as the next record; captured whole where no original length is given.</summary>
    public FrameCollector Take(byte[] octets, int? originalLength = null)
    {
        long number = Decoder.CountsOf(0).Records + 1;
        CaptureRecord record = new()
        {
            Number = number,
            Time = Timestamp.FromUnixNanoseconds(number * 1_000_000),
            InterfaceId = 0,
            Kind = RecordKind.Packet,
            LinkType = LinkType.Ethernet,
            OriginalLength = originalLength ?? octets.Length,
            Data = octets,
        };
        Decoder.Decode(in record, this);
        return this;
    }

    public void OnFrame(in DmxFrame frame) => Frames.Add(new CollectedFrame(
        frame.Record,
        frame.Time,
        frame.Universe,
        frame.Stream,
        frame.Sender,
        frame.StartCode,
        frame.Sequence,
        frame.Priority,
        frame.SyncAddress,
        frame.Flags,
        frame.Slots.ToArray()));

    public void OnEvent(in LinkEvent linkEvent) => Events.Add(linkEvent);
}
