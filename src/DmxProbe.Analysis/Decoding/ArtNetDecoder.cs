using System.Text;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Art-Net payloads to frames and events.</summary>
internal sealed class ArtNetDecoder(
    SenderTable senders, StreamTable streams, NodeTable nodes, PathTable paths, RepeatedHeaders headers)
{
    private const byte NoPriority = 100;
    private const int ArtNzsStartCodeAt = 13;
    private const byte NetBit7 = 0x80;
    private const int MergingBit = 0x08; // GoodOutputA bit 3 (Art-Net 4, 1.4dn, page 36 and on)
    private const int SacnBit = 0x01; // GoodOutputA bit 0: the output is fed from sACN
    private const int LatestBit = 0x02; // GoodOutputA bit 1

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

        headers.Forget(stream);
        bool isPlain = true;
        if (packet.IsLengthOdd || packet.IsLengthOver512 || packet.IsLengthUnder2)
        {
            isPlain = false;
            ReportLength(in record, stream, packet.Length, packet.OctetsPresent, sink);
        }

        if (packet.ProtVer < ArtNetHeader.CurrentProtVer || packet.IsNetBit7Set)
        {
            isPlain = false;
            CheckHeader(in record, stream, packet.ProtVer, packet.Net, sink);
        }

        return Deliver(
            in record, in datagram, stream, startCode: 0, packet.Sequence, packet.Length, packet.Slots, isPlain, sink);
    }

    private WireError DecodeOther(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!ArtNetHeader.TryParse(datagram.Payload, out ArtNetHeader header, out WireError error))
        {
            return error;
        }

        switch (header.OpCode)
        {
            case ArtOpCode.Nzs:
                return DecodeNzs(in record, in datagram, sink);
            case ArtOpCode.PollReply:
                return DecodePollReply(in record, in datagram, sink);
            case ArtOpCode.Poll:
                if (!ArtPollPacket.TryParse(datagram.Payload, out _, out error))
                {
                    return error;
                }

                nodes.Polled(datagram.Source, record.Time);
                sink.OnEvent(Event(LinkEventKind.ArtPoll, in record, Number(datagram.Source), 0));
                return default;
            case ArtOpCode.Sync:
                if (!ArtSyncPacket.TryParse(datagram.Payload, out _, out error))
                {
                    return error;
                }

                sink.OnEvent(Event(LinkEventKind.ArtSync, in record, HostOf(datagram.Source), 0));
                if (!PathTable.IsBroadcast(datagram.Destination, in record) && !datagram.Destination.IsMulticast)
                {
                    sink.OnEvent(Rule(in record, -1, default, ArtRule.SyncUnicast, Number(datagram.Destination)));
                }

                return default;
            case ArtOpCode.Address or ArtOpCode.Input or ArtOpCode.IpProg:
                return DecodeProgramming(in record, in datagram, header.OpCode, sink);
            case ArtOpCode opCode when ArtRdmDecoder.IsAboutRdm(opCode):
                if (opCode is ArtOpCode.TodData or ArtOpCode.Rdm && PathTable.IsBroadcast(datagram.Destination, in record))
                {
                    sink.OnEvent(Rule(in record, senders.KnownArtNet(datagram.Source), default, ArtRule.RdmBroadcast, (long)opCode));
                }

                return ArtRdmDecoder.Decode(in record, opCode, datagram.Payload, sink);
            default:
                sink.OnEvent(Event(LinkEventKind.ArtOther, in record, (long)header.OpCode, 0));
                return default;
        }
    }

    private WireError DecodeNzs(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!ArtNzsPacket.TryParse(datagram.Payload, out ArtNzsPacket packet, out WireError error))
        {
            return error;
        }

        if (!packet.IsStartCodeAllowed)
        {
            sink.OnEvent(Rule(
                in record, -1, new UniverseId(UniverseProtocol.ArtNet, packet.PortAddress), ArtRule.NzsStartCode, packet.StartCode));
        }

        // START code 0 has no place in ArtNzs (Art-Net 4, 1.4dn, page 80): such slots must not reach the levels.
        if (packet.StartCode == 0)
        {
            return new WireError(WireErrorKind.Invalid, ArtNzsStartCodeAt, 1, 0);
        }

        int stream = streams.FindArtNet(packet.PortAddress, datagram.Source, -1, out _);
        if (stream < 0)
        {
            return default;
        }

        headers.Forget(stream);
        if (packet.ProtVer < ArtNetHeader.CurrentProtVer || packet.IsNetBit7Set)
        {
            CheckHeader(in record, stream, packet.ProtVer, packet.Net, sink);
        }

        if (!packet.IsLengthAllowed)
        {
            ReportLength(in record, stream, packet.Length, packet.OctetsPresent, sink);
        }

        return Deliver(
            in record, in datagram, stream, packet.StartCode, packet.Sequence, packet.Length, packet.Slots, isPlain: false, sink);
    }

    private void ReportLength(in CaptureRecord record, int stream, ushort length, int octetsPresent, IFrameSink sink) =>
        sink.OnEvent(new LinkEvent(
            LinkEventKind.ArtLengthOdd,
            record.Time,
            record.Number,
            streams.SenderOf(stream),
            streams.Universe(streams.UniverseIndexOf(stream)),
            length,
            octetsPresent));

    private WireError Deliver(
        in CaptureRecord record,
        in NetworkDatagram datagram,
        int stream,
        byte startCode,
        byte sequence,
        ushort length,
        ReadOnlySpan<byte> slots,
        bool isPlain,
        IFrameSink sink)
    {
        // Length over 512 is a fault of the field; slots are missing only when fewer than 512 came with it.
        int wanted = Math.Min((int)length, ArtDmxPacket.MaximumSlots);
        bool isShort = slots.Length < wanted;
        int universe = streams.UniverseIndexOf(stream);
        FrameFlags flags = sequence == 0 ? FrameFlags.None : FrameFlags.SequenceCounted;
        flags |= datagram.IsIpv6 ? FrameFlags.Ipv6 : FrameFlags.None;
        flags |= paths.Note(stream, in datagram, in record, ArtNetHeader.Port, bothPorts: true);
        DmxFrame frame = new()
        {
            Time = record.Time,
            Record = record.Number,
            Universe = streams.Universe(universe),
            UniverseIndex = universe,
            Stream = stream,
            Sender = streams.SenderOf(stream),
            StartCode = startCode,
            Sequence = sequence,
            Priority = NoPriority,
            Host = datagram.SourceIpv4,
            Flags = isShort ? flags | FrameFlags.SlotsCut : flags,
            Print = PacketPrint.Of(in datagram, record.InterfaceId),
            Slots = slots,
        };
        sink.OnFrame(in frame);
        if (isPlain && !isShort && sequence != 0 && !datagram.IsIpv6)
        {
            headers.Learn(in record, in frame);
        }

        return isShort
            ? WireError.Truncated(ArtDmxPacket.HeaderLength + wanted, datagram.Payload.Length)
            : default;
    }

    private WireError DecodePollReply(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!ArtPollReplyPacket.TryParse(datagram.Payload, out ArtPollReplyPacket packet, out WireError error))
        {
            return error;
        }

        sink.OnEvent(Event(LinkEventKind.ArtPollReply, in record, datagram.Payload.Length, packet.Port));
        if (packet.Ip != datagram.Source)
        {
            sink.OnEvent(Rule(in record, senders.KnownArtNet(datagram.Source), default, ArtRule.ReplyAddress, Number(packet.Ip)));
        }

        if (packet.NumPorts > ArtPollReplyPacket.Ports)
        {
            sink.OnEvent(Rule(in record, senders.KnownArtNet(datagram.Source), default, ArtRule.ReplyPorts, packet.NumPorts));
        }

        NodeTable.Entry? node =
            nodes.Count(datagram.Source, datagram.Payload.Length, packet.Port, record.Time, out bool isNew);
        if (node is null)
        {
            return default;
        }

        node.SawMac(packet.BindIndex ?? 0, MacAddress.Read(packet.Mac), record.Time);
        if (isNew)
        {
            node.PortName = Encoding.UTF8.GetString(packet.PortName);
            node.LongName = Encoding.UTF8.GetString(packet.LongName);
            senders.NameArtNet(datagram.Source, node.LongName.Length > 0 ? node.LongName : node.PortName);
        }

        // More than four ports come as several replies of one device.
        for (int port = 0; port < Math.Min((int)packet.NumPorts, ArtPollReplyPacket.Ports); port++)
        {
            if (packet.IsOutput(port))
            {
                NodeTable.Entry.Add(node.Outputs, packet.OutputPortAddress(port));
                node.Merging |= (packet.GoodOutputA[port] & MergingBit) != 0;
                node.OutputsSacn |= (packet.GoodOutputA[port] & SacnBit) != 0;
                sink.OnEvent(new LinkEvent(
                    LinkEventKind.ArtOutput,
                    record.Time,
                    record.Number,
                    -1,
                    new UniverseId(UniverseProtocol.ArtNet, packet.OutputPortAddress(port)),
                    (packet.GoodOutputA[port] & LatestBit) != 0 ? 1 : 0,
                    (((HostOf(datagram.Source) * 256L) + Math.Max((byte)1, packet.BindIndex ?? 1)) * 4) + port));
            }

            if (packet.IsInput(port))
            {
                NodeTable.Entry.Add(node.Inputs, packet.InputPortAddress(port));
            }
        }

        return default;
    }

    private static WireError DecodeProgramming(
        in CaptureRecord record, in NetworkDatagram datagram, ArtOpCode opCode, IFrameSink sink)
    {
        WireError error;
        byte command = 0;
        if (opCode == ArtOpCode.Address)
        {
            if (ArtAddressPacket.TryParse(datagram.Payload, out ArtAddressPacket address, out error))
            {
                command = address.Command;
            }
        }
        else if (opCode == ArtOpCode.IpProg)
        {
            if (ArtIpProgPacket.TryParse(datagram.Payload, out ArtIpProgPacket program, out error))
            {
                command = program.Command;
            }
        }
        else
        {
            _ = ArtInputPacket.TryParse(datagram.Payload, out _, out error);
        }

        sink.OnEvent(Event(LinkEventKind.ArtOther, in record, (long)opCode, 0));
        if (error.Kind == WireErrorKind.None)
        {
            if (ArtMergeCommand.TryRead(datagram.Payload, out ArtMergeCommand merge))
            {
                sink.OnEvent(Event(
                    LinkEventKind.ArtMergeCommand, in record, merge.Command, (HostOf(datagram.Destination) * 256L) + merge.BindIndex));
            }

            sink.OnEvent(Event(
                LinkEventKind.ArtProgramming,
                in record,
                ((long)opCode << 40) | ((long)command << 32) | Number(datagram.Destination),
                0));
        }

        return error;
    }

    private void CheckHeader(in CaptureRecord record, int stream, ushort version, byte net, IFrameSink sink)
    {
        int sender = streams.SenderOf(stream);
        UniverseId universe = streams.Universe(streams.UniverseIndexOf(stream));
        if (version < ArtNetHeader.CurrentProtVer)
        {
            sink.OnEvent(Rule(in record, sender, universe, ArtRule.Version, version));
        }

        if ((net & NetBit7) != 0)
        {
            sink.OnEvent(Rule(in record, sender, universe, ArtRule.NetBit7, net));
        }
    }

    private static long Number(IpAddress address) => HostOf(address);

    private static LinkEvent Rule(in CaptureRecord record, int sender, UniverseId universe, ArtRule rule, long found) =>
        new(LinkEventKind.ArtRule, record.Time, record.Number, sender, universe, (long)rule, found);

    private static uint HostOf(IpAddress address) => address.IsIpv6 ? 0 : (uint)address.Low;

    private static LinkEvent Event(LinkEventKind kind, in CaptureRecord record, long a, long b) =>
        new(kind, record.Time, record.Number, -1, default, a, b);
}
