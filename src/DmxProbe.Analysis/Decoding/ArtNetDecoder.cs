using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Art-Net payloads to frames and events.</summary>
internal sealed class ArtNetDecoder(SenderTable senders, StreamTable streams, NodeTable nodes)
{
    private const byte NoPriority = 100;

    /// <summary>Decodes a payload that begins as Art-Net does.</summary>
    /// <returns>Why it could not be read, or not wholly; kind None when all is well.</returns>
    public WireError Decode(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (ArtDmxPacket.TryParse(datagram.Payload, out ArtDmxPacket packet, out WireError error))
        {
            return DecodeDmx(in record, in datagram, in packet, sink);
        }

        return error.Kind == WireErrorKind.NotThisProtocol
            ? DecodeOther(in record, in datagram, sink)
            : error;
    }

    private WireError DecodeDmx(
        in CaptureRecord record, in NetworkDatagram datagram, in ArtDmxPacket packet, IFrameSink sink)
    {
        int portAddress = packet.PortAddress;
        int stream = streams.FindArtNet(portAddress, datagram.Source, packet.Physical, out _);
        if (stream < 0)
        {
            return default;
        }

        int sender = streams.SenderOf(stream);
        UniverseId universe = new(UniverseProtocol.ArtNet, portAddress);
        if (packet.IsLengthOdd || packet.IsLengthOver512 || packet.IsLengthUnder2)
        {
            sink.OnEvent(new LinkEvent(
                LinkEventKind.ArtLengthOdd,
                record.Time,
                record.Number,
                sender,
                universe,
                packet.Length,
                packet.OctetsPresent));
        }

        // Length over 512 is a fault of the field; slots are missing only when fewer than 512 came with it.
        int wanted = Math.Min((int)packet.Length, ArtDmxPacket.MaximumSlots);
        bool isShort = packet.Slots.Length < wanted;
        FrameFlags flags = packet.Sequence == 0 ? FrameFlags.None : FrameFlags.SequenceCounted;
        flags |= datagram.IsIpv6 ? FrameFlags.Ipv6 : FrameFlags.None;
        sink.OnFrame(new DmxFrame
        {
            Time = record.Time,
            Record = record.Number,
            Universe = universe,
            UniverseIndex = streams.UniverseIndexOf(stream),
            Stream = stream,
            Sender = sender,
            Sequence = packet.Sequence,
            Priority = NoPriority,
            Flags = isShort ? flags | FrameFlags.SlotsCut : flags,
            Slots = packet.Slots,
        });
        return isShort
            ? WireError.Truncated(ArtDmxPacket.HeaderLength + wanted, datagram.Payload.Length)
            : default;
    }

    private WireError DecodeOther(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        _ = senders;
        _ = nodes;
        _ = record;
        _ = sink;
        return new WireError(WireErrorKind.NotThisProtocol, 8, 0, datagram.Payload.Length);
    }
}
