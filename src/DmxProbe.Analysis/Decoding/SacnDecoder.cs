using System.Text.Unicode;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>sACN payloads to frames and events.</summary>
internal sealed class SacnDecoder(
    SenderTable senders, StreamTable streams, DiscoveryTable discovery, PathTable paths, RepeatedHeaders headers)
{
    // A source may rename itself; looking once in 64 packets of its own count costs nothing.
    private const int NameEvery = 64;

    private const byte ReservedOptions = 0x1F;

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

        headers.Forget(stream);
        int sender = streams.SenderOf(stream);
        if (isNew || packet.Sequence % NameEvery == 0)
        {
            senders.Name(sender, packet.SourceName);
            if (!packet.IsSourceNameTerminated)
            {
                sink.OnEvent(Broken(in record, sender, universe, SacnRule.SourceName, SacnDataPacket.SourceNameLength));
            }

            if (!Utf8.IsValid(packet.SourceName))
            {
                sink.OnEvent(Broken(in record, sender, universe, SacnRule.NameText, 0));
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

        bool isPlain = packet.FollowsRules(datagram.StatedPayloadLength) && (packet.Options & ReservedOptions) == 0;
        if (!isPlain)
        {
            CheckRules(in record, in datagram, in packet, sender, sink);
        }

        FrameFlags flags = FlagsOf(in packet, datagram.IsIpv6);
        if (IsAstray(in datagram, universe))
        {
            CheckGroup(in record, in datagram, universe, sender, sink);
            isPlain &= !datagram.Destination.IsMulticast && !datagram.Destination.IsLimitedBroadcast;
            flags |= paths.Note(stream, in datagram, in record, SacnAddressing.Port, bothPorts: false);
        }

        bool isShort = packet.SlotsMissing > 0;
        DmxFrame frame = new()
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
            Print = PacketPrint.Of(in datagram, record.InterfaceId),
            Host = datagram.SourceIpv4,
            Slots = packet.Slots,
        };
        sink.OnFrame(in frame);
        if (isPlain && !isShort && !datagram.IsIpv6 && streams.IsOnlyIpv4(stream))
        {
            headers.Learn(in record, in frame);
        }

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

        if ((packet.Options & ReservedOptions) != 0)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Options, packet.Options));
        }

        if (packet.FirstRuleBroken is { Kind: not WireErrorKind.None } broken)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Discarded, broken.Offset));
        }
    }

    // Whether it goes anywhere but to the group and the port of its universe.
    private static bool IsAstray(in NetworkDatagram datagram, ushort universe) =>
        datagram.DestinationPort != SacnAddressing.Port
        || (datagram.IsIpv6
            ? datagram.Destination != SacnAddressing.Ipv6Group(universe)
            : datagram.DestinationIpv4 != SacnAddressing.Ipv4GroupNumber(universe));

    private static void CheckGroup(
        in CaptureRecord record, in NetworkDatagram datagram, ushort universe, int sender, IFrameSink sink)
    {
        IpAddress destination = datagram.Destination;
        if (!destination.IsMulticast)
        {
            if (destination.IsLimitedBroadcast)
            {
                sink.OnEvent(Broken(in record, sender, universe, SacnRule.Broadcast, universe));
            }

            return;
        }

        if (datagram.DestinationPort != SacnAddressing.Port)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Port, datagram.DestinationPort));
        }

        if (SacnAddressing.TryGetUniverse(destination, out ushort heardBy) && heardBy == universe)
        {
            return;
        }

        bool isMisread = SacnAddressing.TryGetMisreadUniverse(destination, out ushort meant) && meant == universe;
        sink.OnEvent(isMisread
            ? Broken(in record, sender, universe, SacnRule.MisreadGroup, meant)
            : Broken(in record, sender, universe, SacnRule.Group, SacnAddressing.TryGetUniverse(destination, out _) ? heardBy : 0));
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

        if (packet.Reserved != 0)
        {
            sink.OnEvent(Broken(in record, sender, packet.SyncAddress, SacnRule.Reserved, packet.Reserved));
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
        CheckList(in record, in datagram, in packet, sender, sink);
        CheckGroup(in record, in datagram, SacnAddressing.DiscoveryUniverse, sender, sink);
        return default;
    }

    private static void CheckList(
        in CaptureRecord record, in NetworkDatagram datagram, in SacnDiscoveryPacket packet, int sender, IFrameSink sink)
    {
        const ushort universe = SacnAddressing.DiscoveryUniverse;
        if (!packet.FlagsAndLengthAgree(datagram.StatedPayloadLength))
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.FlagsAndLength, datagram.StatedPayloadLength));
        }

        if (packet.Reserved != 0)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Reserved, packet.Reserved));
        }

        if (!packet.IsSorted)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.ListOrder, packet.UniverseCount));
        }

        if (packet.Page > packet.LastPage)
        {
            sink.OnEvent(Broken(in record, sender, universe, SacnRule.Page, packet.Page));
        }

        foreach (ushort listed in packet)
        {
            if (!SacnAddressing.IsDataUniverse(listed))
            {
                sink.OnEvent(Broken(in record, sender, universe, SacnRule.ListedUniverse, listed));
                break;
            }
        }
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

        headers.Forget(stream);
        int sender = streams.SenderOf(stream);
        if (isNew)
        {
            senders.Name(sender, packet.SourceName);
        }

        bool isShort = packet.SlotsMissing > 0;
        FrameFlags flags = FrameFlags.SequenceCounted | FrameFlags.Draft;
        flags |= datagram.IsIpv6 ? FrameFlags.Ipv6 : FrameFlags.None;
        if (IsAstray(in datagram, packet.Universe))
        {
            CheckGroup(in record, in datagram, packet.Universe, sender, sink);
            flags |= paths.Note(stream, in datagram, in record, SacnAddressing.Port, bothPorts: false);
        }

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
            Print = PacketPrint.Of(in datagram, record.InterfaceId),
            Host = datagram.SourceIpv4,
            Slots = packet.Slots,
        });
        return isShort
            ? WireError.Truncated(datagram.Payload.Length + packet.SlotsMissing, datagram.Payload.Length)
            : default;
    }
}
