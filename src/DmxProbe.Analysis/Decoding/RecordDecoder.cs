using System.Buffers.Binary;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Decoding.Serial;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// Records in, frames and events out. Packets are told apart by their content, not by their port, so that unicast sACN on
/// another port and replies from any port are found; a packet on a lighting port that is neither is malformed.
/// </summary>
public sealed class RecordDecoder
{
    private const ulong ArtNetId = 0x4172742D4E657400; // "Art-Net", zero
    private const ulong AcnIdentifier = 0x4153432D45312E31; // "ASC-E1.1"
    private const int AcnIdentifierAt = 4;

    private readonly PerIndex<InputCounts> _counts = new();
    private readonly RepeatedHeaders _headers;
    private readonly SacnDecoder _sacn;
    private readonly ArtNetDecoder _artNet;
    private readonly SerialDecoder _serial;

    /// <summary>Makes a decoder with tables of its own; what line recordings need is found, framed interfaces send the usual messages.</summary>
    public RecordDecoder()
        : this(LineOptions.Found)
    {
    }

    /// <summary>Makes a decoder with tables of its own.</summary>
    /// <param name="line">What a person says about line recordings and serial interfaces.</param>
    public RecordDecoder(LineOptions line)
    {
        Senders = new SenderTable();
        Streams = new StreamTable(Senders);
        Nodes = new NodeTable();
        Discovery = new DiscoveryTable();
        _headers = new RepeatedHeaders(Streams);
        _sacn = new SacnDecoder(Senders, Streams, Discovery, Paths, _headers);
        _artNet = new ArtNetDecoder(Senders, Streams, Nodes, Paths, _headers);
        _serial = new SerialDecoder(Streams, line.Framed);
        Lines = new LineDecoder(Streams, line);
    }

    /// <summary>Everybody who sent something.</summary>
    public SenderTable Senders { get; }

    /// <summary>The pairs of universe and sender.</summary>
    public StreamTable Streams { get; }

    /// <summary>Where each stream goes to.</summary>
    public PathTable Paths { get; } = new();

    /// <summary>Devices that sent ArtPollReply.</summary>
    public NodeTable Nodes { get; }

    /// <summary>What sACN sources say they send.</summary>
    public DiscoveryTable Discovery { get; }

    /// <summary>Marks that somebody made while recording.</summary>
    public MarkTable Marks { get; } = new();

    /// <summary>Channels of line recordings, and what was made of them.</summary>
    public LineDecoder Lines { get; }

    /// <summary>The interfaces of the source, which tell what the records of a port or line are; may grow while reading.</summary>
    public IReadOnlyList<CaptureInterface> Interfaces { get; set; } = [];

    /// <summary>Time of the first record decoded; null before it.</summary>
    public Timestamp? FirstRecord { get; private set; }

    /// <summary>What was counted on an interface.</summary>
    public InputCounts CountsOf(int interfaceId) => interfaceId < _counts.Count ? _counts[interfaceId] : default;

    /// <summary>Decodes one record. Never throws for what it holds; allocates only when somebody new appears.</summary>
    public void Decode(in CaptureRecord record, IFrameSink sink)
    {
        ref InputCounts counts = ref _counts[record.InterfaceId];
        if (counts.Records++ == 0)
        {
            counts.First = record.Time;
            FirstRecord ??= record.Time;
        }

        counts.Last = record.Time;
        if (record.LostBefore > 0 || record.Kind == RecordKind.Loss)
        {
            counts.LostByCapture += record.LostBefore;
            sink.OnEvent(Event(LinkEventKind.CaptureLoss, in record, record.LostBefore, record.Kind == RecordKind.Loss ? 1 : 0));
        }

        switch (record.Kind)
        {
            case RecordKind.Packet:
                DecodePacket(in record, ref counts, sink);
                break;
            case RecordKind.Edges:
                DecodeEdges(in record, ref counts, sink);
                break;
            case RecordKind.Serial:
                Count(_serial.Decode(in record, Interfaces, sink), in record, ref counts, sink);
                break;
            case RecordKind.Loss:
                _serial.Lost(record.InterfaceId);
                break;
            case RecordKind.Mark:
                Marks.Add(in record);
                break;
            default:
                break;
        }
    }

    /// <summary>The source has ended: pushes what was held back to be understood, and what the end cuts short.</summary>
    public void Finish(IFrameSink sink) => Lines.Finish(sink);

    private void DecodeEdges(in CaptureRecord record, ref InputCounts counts, IFrameSink sink)
    {
        if (Lines.Decode(in record, Interfaces, sink, out Timestamp until))
        {
            counts.Last = until;
            return;
        }

        counts.Malformed++;
        sink.OnEvent(Event(LinkEventKind.Malformed, in record, (long)WireErrorKind.Invalid, 0));
    }

    private void DecodePacket(in CaptureRecord record, ref InputCounts counts, IFrameSink sink)
    {
        if (_headers.TryDecode(in record, sink))
        {
            return;
        }

        if (NetworkDatagram.TryParse(record.LinkType, record.Data, out NetworkDatagram datagram, out WireError error))
        {
            DecodePayload(in record, in datagram, ref counts, sink);
        }
        else
        {
            NetworkPacketDecoder.Decode(in record, sink);
            Refused(in record, in datagram, error, ref counts, sink);
        }
    }

    private static bool IsLightingPort(in NetworkDatagram datagram) =>
        datagram.DestinationPort is SacnAddressing.Port or ArtNetHeader.Port || datagram.SourcePort == ArtNetHeader.Port;

    private static LinkEvent Event(LinkEventKind kind, in CaptureRecord record, long a, long b) =>
        new(kind, record.Time, record.Number, -1, default, a, b);

    private static bool IsCutBySnapLength(in CaptureRecord record) => record.OriginalLength > record.Data.Length;

    private void DecodePayload(
        in CaptureRecord record, in NetworkDatagram datagram, ref InputCounts counts, IFrameSink sink)
    {
        ReadOnlySpan<byte> payload = datagram.Payload;
        if (payload.Length >= AcnIdentifierAt + sizeof(ulong)
            && BinaryPrimitives.ReadUInt64BigEndian(payload[AcnIdentifierAt..]) == AcnIdentifier)
        {
            Count(_sacn.Decode(in record, in datagram, sink), in record, ref counts, sink);
        }
        else if (payload.Length >= sizeof(ulong) && BinaryPrimitives.ReadUInt64BigEndian(payload) == ArtNetId)
        {
            Count(_artNet.Decode(in record, in datagram, sink), in record, ref counts, sink);
        }
        else if (!IsLightingPort(in datagram))
        {
            counts.OtherTraffic++;
        }
        else
        {
            WireErrorKind kind = payload.Length < AcnIdentifierAt + sizeof(ulong)
                ? WireErrorKind.Truncated
                : WireErrorKind.NotThisProtocol;
            Count(new WireError(kind, 0, 0, payload.Length), in record, ref counts, sink);
        }
    }

    // A packet that ends too early is the capture's doing where the snap length cut it, else the sender's.
    private static void Count(WireError error, in CaptureRecord record, ref InputCounts counts, IFrameSink sink)
    {
        if (error.Kind == WireErrorKind.None)
        {
            return;
        }

        if (error.Kind == WireErrorKind.Truncated && IsCutBySnapLength(in record))
        {
            counts.CutBySnapLength++;
            sink.OnEvent(Event(LinkEventKind.CutBySnapLength, in record, 0, 0));
        }
        else
        {
            counts.Malformed++;
            sink.OnEvent(Event(LinkEventKind.Malformed, in record, (long)error.Kind, error.Offset));
        }
    }

    private static void Refused(
        in CaptureRecord record, in NetworkDatagram datagram, WireError error, ref InputCounts counts, IFrameSink sink)
    {
        if (error.Kind == WireErrorKind.Fragment && (!datagram.ArePortsKnown || IsLightingPort(in datagram)))
        {
            // A later fragment carries no port: only the first tells whether it was lighting, so only that is counted.
            if (datagram.ArePortsKnown)
            {
                counts.Fragments++;
                sink.OnEvent(Event(LinkEventKind.Fragment, in record, 0, 0));
                return;
            }
        }

        counts.OtherTraffic++;
    }
}
