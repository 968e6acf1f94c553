using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Serial;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Serial;

/// <summary>A serial source with a decoder behind it, pumped by the test's own thread.</summary>
internal sealed class SerialListener : IFrameSink, IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private readonly RecordDecoder _decoder = new();

    public SerialListener(bool isFramed, string port, bool portable = false)
    {
        LiveSettings settings = new() { Clock = TimeProvider.System, Tell = Notices.Add, Portable = portable };
        SerialOptions options = new() { AskForMarks = false, LookAgainEvery = Duration.FromMilliseconds(20) };
        Source = isFramed ? SerialSource.OpenFramed(port, settings, options) : SerialSource.OpenUart(port, settings, options);
        _decoder.Interfaces = Source.Interfaces;
    }

    public SerialSource Source { get; }

    public List<LiveNotice> Notices { get; } = [];

    public List<(Timestamp Time, FrameFlags Flags, byte[] Slots)> Frames { get; } = [];

    public List<LinkEvent> Events { get; } = [];

    public int Idles { get; private set; }

    public Timestamp Last { get; private set; } = Timestamp.MinValue;

    /// <summary>Reads until something holds, at most 30 s (or as told).</summary>
    public void Until(Func<bool> holds, TimeSpan? patience = null)
    {
        long from = TimeProvider.System.GetTimestamp();
        while (!holds())
        {
            Assert.True(TimeProvider.System.GetElapsedTime(from) < (patience ?? Patience), $"waited too long: {Frames.Count} frames, {Events.Count} events, {Notices.Count} notices");
            if (Step() == ReadStatus.End)
            {
                Assert.True(holds(), "the source ended too early");
                return;
            }
        }
    }

    public ReadStatus Step()
    {
        ReadStatus status = Source.Read(out CaptureRecord record);
        if (status == ReadStatus.End)
        {
            return status;
        }

        Assert.True(record.Time >= Last, "time went back");
        Last = record.Time;
        if (status == ReadStatus.Idle)
        {
            Idles++;
        }
        else
        {
            _decoder.Decode(in record, this);
        }

        return status;
    }

    public void OnFrame(in DmxFrame frame) => Frames.Add((frame.Time, frame.Flags, frame.Slots.ToArray()));

    public void OnEvent(in LinkEvent linkEvent) => Events.Add(linkEvent);

    public void Dispose() => Source.Dispose();
}
