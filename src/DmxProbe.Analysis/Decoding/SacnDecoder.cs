using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>sACN payloads to frames and events.</summary>
internal sealed class SacnDecoder(SenderTable senders, StreamTable streams, DiscoveryTable discovery)
{
    // A source may rename itself; looking once in 64 packets of its own count costs nothing.
    private const int NameEvery = 64;

    /// <summary>Decodes a payload that begins as ACN does.</summary>
    /// <returns>Why it could not be read, or not wholly; kind None when all is well.</returns>
    public WireError Decode(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (SacnDataPacket.TryParse(datagram.Payload, out SacnDataPacket packet, out WireError error))
        {
            return DecodeData(in record, in datagram, in packet, sink);
        }

        return error.Kind == WireErrorKind.NotThisProtocol
            ? DecodeOther(in record, in datagram, sink)
            : error;
    }

    private static FrameFlags FlagsOf(in SacnDataPacket packet, bool isIpv6)
    {
        FrameFlags flags = FrameFlags.SequenceCounted;
        if (packet.Options != 0)
        {
            flags |= packet.IsPreview ? FrameFlags.Preview : FrameFlags.None;
            flags |= packet.IsTerminated ? FrameFlags.Terminated : FrameFlags.None;
            flags |= packet.ForceSynchronization ? FrameFlags.ForceSynchronization : FrameFlags.None;
        }

        return isIpv6 ? flags | FrameFlags.Ipv6 : flags;
    }

    private static LinkEvent Broken(in CaptureRecord record, int sender, ushort universe, SacnRule rule, long found) =>
        new(
            LinkEventKind.SacnRule,
            record.Time,
            record.Number,
            sender,
            new UniverseId(UniverseProtocol.Sacn, universe),
            (long)rule,
            found);

    private WireError DecodeData(
        in CaptureRecord record, in NetworkDatagram datagram, in SacnDataPacket packet, IFrameSink sink)
    {
        ushort universe = packet.Universe;
        int stream = streams.FindSacn(universe, packet.Cid, datagram.Source, out bool isNew);
        if (stream < 0)
        {
            return default;
        }

        int sender = streams.SenderOf(stream);
        if (isNew || packet.Sequence % NameEvery == 0)
        {
            senders.Name(sender, packet.SourceName);
            if (!packet.IsSourceNameTerminated)
            {
                sink.OnEvent(Broken(in record, sender, universe, SacnRule.SourceName, SacnDataPacket.SourceNameLength));
            }
        }

        if (streams.IsSecondInstance(stream, datagram.IsIpv6, packet.Sequence))
        {
            sink.OnEvent(new LinkEvent(
                LinkEventKind.SecondInstance,
                record.Time,
                record.Number,
                sender,
                new UniverseId(UniverseProtocol.Sacn, universe),
                packet.Sequence,
                0));
            return default;
        }

        if (!packet.FollowsRules(datagram.StatedPayloadLength))
        {
            CheckRules(in record, in datagram, in packet, sender, sink);
        }

        if (datagram.Destination != (datagram.IsIpv6 ? SacnAddressing.Ipv6Group(universe) : SacnAddressing.Ipv4Group(universe)))
        {
            CheckGroup(in record, in datagram, universe, sender, sink);
        }

        FrameFlags flags = FlagsOf(in packet, datagram.IsIpv6);
        bool isShort = packet.SlotsMissing > 0;
        sink.OnFrame(new DmxFrame
        {
            Time = record.Time,
            Record = record.Number,
            Universe = new UniverseId(UniverseProtocol.Sacn, universe),
            UniverseIndex = streams.UniverseIndexOf(stream),
            Stream = stream,
            Sender = sender,
            StartCode = packet.StartCode,
            Sequence = packet.Sequence,
            Priority = packet.Priority,
            SyncAddress = packet.SyncAddress,
            Flags = isShort ? flags | FrameFlags.SlotsCut : flags,
            Slots = packet.Slots,
        });

        return isShort
            ? WireError.Truncated(SacnDataPacket.HeaderLength + packet.PropertyCount - 1, datagram.Payload.Length)
            : default;
    }

    private static void CheckRules(
        in CaptureRecord record, in NetworkDatagram datagram, in SacnDataPacket packet, int sender, IFrameSink sink)
    {
        ushort universe = packet.Universe;
        if (!packet.FlagsAndLengthAgree(datagram.StatedPayloadLength))
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.FlagsAndLength, datagram.StatedPayloadLength));
        }

        if (!packet.IsPriorityAllowed)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Priority, packet.Priority));
        }

        if (!packet.IsUniverseAllowed)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Universe, universe));
        }

        if (packet.FirstRuleBroken is { Kind: not WireErrorKind.None } broken)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Discarded, broken.Offset));
        }
    }

    private static void CheckGroup(
        in CaptureRecord record, in NetworkDatagram datagram, ushort universe, int sender, IFrameSink sink)
    {
        IpAddress destination = datagram.Destination;
        if (!destination.IsMulticast
            || (SacnAddressing.TryGetUniverse(destination, out ushort heardBy) && heardBy == universe))
        {
            return;
        }

        sink.OnEvent(Broken(in record, sender, universe, SacnRule.Group, heardBy));
    }

    private WireError DecodeOther(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!SacnRootLayer.TryParse(datagram.Payload, out SacnRootLayer root, out WireError error))
        {
            return error;
        }

        switch (root.PacketType)
        {
            case SacnPacketType.Synchronization:
                return DecodeSync(in record, in datagram, sink);
            case SacnPacketType.UniverseDiscovery:
                return DecodeDiscovery(in record, in datagram, sink);
            case SacnPacketType.Draft:
                return DecodeDraft(in record, in datagram, sink);
            default:
                // Nobody defined these vectors: said with what was found, not called damaged.
                sink.OnEvent(Broken(in record, -1, 0, SacnRule.Vector, ((long)root.RootVector << 32) | root.FramingVector));
                return default;
        }
    }

    private WireError DecodeSync(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!SacnSyncPacket.TryParse(datagram.Payload, out SacnSyncPacket packet, out WireError error))
        {
            return error;
        }

        int sender = senders.FindSacn(packet.Cid, datagram.Source);
        UniverseId address = new(UniverseProtocol.Sacn, packet.SyncAddress);
        sink.OnEvent(new LinkEvent(
            LinkEventKind.SacnSync, record.Time, record.Number, sender, address, packet.SyncAddress, packet.Sequence));
        if (!packet.IsSyncAddressAllowed)
        {
            sink.OnEvent(Broken(in record, sender, packet.SyncAddress, SacnRule.SyncAddress, packet.SyncAddress));
        }

        if (!packet.FlagsAndLengthAgree(datagram.StatedPayloadLength))
        {
            sink.OnEvent(Broken(
                in record, sender, packet.SyncAddress, SacnRule.FlagsAndLength, datagram.StatedPayloadLength));
        }

        CheckGroup(in record, in datagram, packet.SyncAddress, sender, sink);
        return default;
    }

    private WireError DecodeDiscovery(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!SacnDiscoveryPacket.TryParse(datagram.Payload, out SacnDiscoveryPacket packet, out WireError error))
        {
            return error;
        }

        int sender = senders.FindSacn(packet.Cid, datagram.Source);
        if (sender < 0)
        {
            return default;
        }

        senders.Name(sender, packet.SourceName);
        sink.OnEvent(new LinkEvent(
            LinkEventKind.SacnDiscovery, record.Time, record.Number, sender, default, packet.Page, packet.LastPage));
        List<int> universes = discovery.Page(sender, record.Time, packet.Page, packet.LastPage);
        foreach (ushort universe in packet)
        {
            universes.Add(universe);
        }

        discovery.Settle(sender);
        CheckGroup(in record, in datagram, SacnAddressing.DiscoveryUniverse, sender, sink);
        return default;
    }

    private WireError DecodeDraft(in CaptureRecord record, in NetworkDatagram datagram, IFrameSink sink)
    {
        if (!SacnDraftPacket.TryParse(datagram.Payload, out SacnDraftPacket packet, out WireError error))
        {
            return error;
        }

        int stream = streams.FindSacn(packet.Universe, packet.Cid, datagram.Source, out bool isNew);
        if (stream < 0)
        {
            return default;
        }

        int sender = streams.SenderOf(stream);
        if (isNew)
        {
            senders.Name(sender, packet.SourceName);
        }

        bool isShort = packet.SlotsMissing > 0;
        FrameFlags flags = FrameFlags.SequenceCounted | FrameFlags.Draft;
        flags |= datagram.IsIpv6 ? FrameFlags.Ipv6 : FrameFlags.None;
        sink.OnFrame(new DmxFrame
        {
            Time = record.Time,
            Record = record.Number,
            Universe = new UniverseId(UniverseProtocol.Sacn, packet.Universe),
            UniverseIndex = streams.UniverseIndexOf(stream),
            Stream = stream,
            Sender = sender,
            StartCode = packet.StartCode,
            Sequence = packet.Sequence,
            Priority = packet.Priority,
            Flags = isShort ? flags | FrameFlags.SlotsCut : flags,
            Slots = packet.Slots,
        });
        return isShort
            ? WireError.Truncated(datagram.Payload.Length + packet.SlotsMissing, datagram.Payload.Length)
            : default;
    }
}
