using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// Hands repeats on as whole frames: for an analyzer that has no short way, or begins to listen in the middle, where others
/// take theirs. The record of such a frame is that of the last one that came whole.
/// </summary>
/// <param name="analyzer">Who is fed.</param>
public sealed class WholeFrames(IAnalyzer analyzer) : IAnalyzer
{
    private readonly PerIndex<Head> _heads = new();

    /// <inheritdoc/>
    public bool TakesEveryRepeat => true;

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        ref Head head = ref _heads[stream];
        analyzer.OnFrame(new DmxFrame
        {
            Time = time,
            Record = head.Record,
            Universe = head.Universe,
            Stream = stream,
            Sender = head.Sender,
            UniverseIndex = head.UniverseIndex,
            StartCode = head.StartCode,
            Sequence = sequence,
            Priority = head.Priority,
            SyncAddress = head.SyncAddress,
            Host = head.Host,
            Flags = head.Flags,
            Print = print,
            Slots = slots,
        });
        return true;
    }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        _heads[frame.Stream] = new Head
        {
            Record = frame.Record,
            Universe = frame.Universe,
            Sender = frame.Sender,
            UniverseIndex = frame.UniverseIndex,
            Host = frame.Host,
            Flags = frame.Flags,
            SyncAddress = frame.SyncAddress,
            StartCode = frame.StartCode,
            Priority = frame.Priority,
        };
        analyzer.OnFrame(in frame);
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => analyzer.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet) => analyzer.OnNetworkPacket(in packet);

    /// <inheritdoc/>
    public void OnLineTiming(in LineTiming timing) => analyzer.OnLineTiming(in timing);

    /// <inheritdoc/>
    public void OnRdm(in RdmTraffic traffic) => analyzer.OnRdm(in traffic);

    /// <inheritdoc/>
    public void OnTime(Timestamp now) => analyzer.OnTime(now);

    private struct Head
    {
        public long Record;
        public UniverseId Universe;
        public int Sender;
        public int UniverseIndex;
        public uint Host;
        public FrameFlags Flags;
        public ushort SyncAddress;
        public byte StartCode;
        public byte Priority;
    }
}
