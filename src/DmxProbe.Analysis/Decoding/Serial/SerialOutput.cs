using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding.Serial;

/// <summary>Where the decoder of one port puts what it finds in one record.</summary>
internal readonly ref struct SerialOutput(StreamTable streams, SerialPortState port, IFrameSink sink, ref WireError error)
{
    private readonly ref WireError _error = ref error;

    /// <summary>Hands on a packet.</summary>
    /// <param name="record">The record that brought its end.</param>
    /// <param name="packet">START code and slots: 1 to 513 octets.</param>
    /// <param name="isDamaged">True where its slots are not to be believed.</param>
    public void Packet(in CaptureRecord record, ReadOnlySpan<byte> packet, bool isDamaged) =>
        Packet(record.Time, record.Number, packet, isDamaged);

    /// <summary>Hands on a packet whose end was understood later than it came.</summary>
    /// <param name="time">When its last octet was read.</param>
    /// <param name="record">Number of the record that brought it.</param>
    /// <param name="packet">START code and slots: 1 to 513 octets.</param>
    /// <param name="isDamaged">True where its slots are not to be believed.</param>
    public void Packet(Timestamp time, long record, ReadOnlySpan<byte> packet, bool isDamaged)
    {
        int stream = streams.FindLocal(port.Universe, port.Name, port.MeasuredAt);
        if (stream < 0)
        {
            return;
        }

        sink.OnFrame(new DmxFrame
        {
            Time = time,
            Record = record,
            Universe = port.Universe,
            UniverseIndex = streams.UniverseIndexOf(stream),
            Stream = stream,
            Sender = streams.SenderOf(stream),
            StartCode = packet[0],
            Priority = 100,
            Flags = isDamaged ? FrameFlags.Damaged : FrameFlags.None,
            Slots = packet[1..],
        });
    }

    /// <summary>Hands on anything else.</summary>
    public void Event(in CaptureRecord record, LinkEventKind kind, long a = 0, long b = 0)
    {
        int stream = streams.FindLocal(port.Universe, port.Name, port.MeasuredAt);
        sink.OnEvent(new LinkEvent(
            kind, record.Time, record.Number, stream < 0 ? -1 : streams.SenderOf(stream), port.Universe, a, b));
    }

    /// <summary>A message or record contradicts its own layout.</summary>
    public void Refuse(WireError error) => _error = error;
}
