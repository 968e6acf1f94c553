using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Wire;

/// <summary>Makes every view of some octets and reads every accessor of those that succeed.</summary>
internal static class EveryView
{
    /// <summary>Checks what must hold for any octets.</summary>
    /// <returns>How many views could be made.</returns>
    public static int Touch(byte[] data)
    {
        int made = Sacn(data) + ArtNet(data);
        foreach (LinkType link in Enum.GetValues<LinkType>())
        {
            made += Network(link, data);
        }

        if (Ipv4Packet.TryParse(data, out Ipv4Packet four, out WireError error))
        {
            made++;
            Use(four.HeaderLength, four.TotalLength, four.Identification, four.IsFragment, four.MoreFragments);
            Use(four.FragmentOffset, four.TimeToLive, four.Protocol, four.Source, four.Destination);
            Inside(four.Payload, data);
        }

        Consistent(error, data);
        if (Ipv6Packet.TryParse(data, out Ipv6Packet six, out error))
        {
            made++;
            Use(six.PayloadLength, six.HopLimit, six.IsFragment, six.MoreFragments, six.FragmentOffset);
            Use(six.Identification, six.HeaderLength, six.Source.Length, six.Destination.Length, six.Protocol);
            Inside(six.Payload, data);
        }

        Consistent(error, data);
        if (UdpDatagram.TryParse(data, out UdpDatagram udp, out error))
        {
            made++;
            Use(udp.SourcePort, udp.DestinationPort, udp.Length, udp.Checksum, udp.IsCut);
            Inside(udp.Payload, data);
        }

        Consistent(error, data);
        return made;
    }

    private static int Network(LinkType link, byte[] data)
    {
        bool made = NetworkDatagram.TryParse(link, data, out NetworkDatagram datagram, out WireError error);
        if (made || error.Kind == WireErrorKind.Fragment)
        {
            Use(datagram.Source, datagram.Destination, datagram.TimeToLive, datagram.IpIdentification, datagram.VlanId);
            Use(datagram.SourcePort, datagram.DestinationPort, datagram.UdpLength, datagram.IsCut, datagram.IsIpv6);
            Use(datagram.ArePortsKnown, datagram.IsLongerThanPacket, datagram.StatedPayloadLength);
            Inside(datagram.Payload, data);
        }

        Assert.Equal(made, error.Kind == WireErrorKind.None);
        Consistent(error, data);
        return made ? 1 : 0;
    }

    private static int Sacn(byte[] data)
    {
        int made = 0;
        if (SacnRootLayer.TryParse(data, out SacnRootLayer root, out WireError error))
        {
            made++;
            Use(root.Cid, root.PacketType, root.RootVector, root.FramingVector, root.IsPreambleValid);
            Use(root.PreambleSize, root.PostambleSize, root.RootLengthAgrees(data.Length));
        }

        Consistent(error, data);
        if (SacnDataPacket.TryParse(data, out SacnDataPacket packet, out error))
        {
            made++;
            Use(packet.Cid, packet.CidOctets.Length, packet.SourceName.Length, packet.IsSourceNameTerminated, packet.Priority);
            Use(packet.IsPriorityAllowed, packet.SyncAddress, packet.Sequence, packet.Options, packet.IsPreview);
            Use(packet.IsTerminated, packet.ForceSynchronization, packet.Universe, packet.IsUniverseAllowed, packet.StartCode);
            Use(packet.PropertyCount, packet.AreDmpFieldsValid, packet.FirstRuleBroken, packet.FlagsAndLengthAgree(data.Length));
            Assert.Equal(packet.PropertyCount - 1, packet.Slots.Length + packet.SlotsMissing);
            Assert.InRange(packet.SlotsMissing, 0, 512);
            Inside(packet.Slots, data);
        }

        Consistent(error, data);
        if (SacnSyncPacket.TryParse(data, out SacnSyncPacket sync, out error))
        {
            made++;
            Use(sync.Cid, sync.Sequence, sync.SyncAddress, sync.IsSyncAddressAllowed, sync.Reserved);
            Use(sync.IsPreambleValid, sync.FlagsAndLengthAgree(data.Length));
        }

        Consistent(error, data);
        if (SacnDiscoveryPacket.TryParse(data, out SacnDiscoveryPacket discovery, out error))
        {
            made++;
            Use(discovery.Cid, discovery.SourceName.Length, discovery.Page, discovery.LastPage, discovery.ListVector);
            Use(discovery.IsSorted, discovery.IsSourceNameTerminated, discovery.Reserved, discovery.FlagsAndLengthAgree(data.Length));
            int count = 0;
            foreach (ushort universe in discovery)
            {
                Use(universe);
                count++;
            }

            Assert.Equal(discovery.UniverseCount, count);
            Assert.InRange(count, 0, 512);
        }

        Consistent(error, data);
        if (SacnDraftPacket.TryParse(data, out SacnDraftPacket draft, out error))
        {
            made++;
            Use(draft.Cid, draft.SourceName.Length, draft.Priority, draft.Sequence, draft.Universe);
            Use(draft.StartCode, draft.AreDmpFieldsValid, draft.FlagsAndLengthAgree(data.Length));
            Assert.Equal(draft.PropertyCount, draft.Slots.Length + draft.SlotsMissing);
            Inside(draft.Slots, data);
        }

        Consistent(error, data);
        return made;
    }

    private static int ArtNet(byte[] data)
    {
        int made = 0;
        if (ArtNetHeader.TryParse(data, out ArtNetHeader header, out WireError error))
        {
            made++;
            Use(header.ProtVer, ArtOpCodes.Name(header.OpCode));
        }

        Consistent(error, data);
        if (ArtDmxPacket.TryParse(data, out ArtDmxPacket dmx, out error))
        {
            made++;
            Use(dmx.ProtVer, dmx.Sequence, dmx.Physical, dmx.IsNetBit7Set, dmx.IsLengthUnder2);
            Assert.InRange(dmx.PortAddress, 0, 32767);
            Assert.Equal(Math.Min(512, Math.Min(dmx.Length, dmx.OctetsPresent)), dmx.Slots.Length);
            Inside(dmx.Slots, data);
        }

        Consistent(error, data);
        if (ArtNzsPacket.TryParse(data, out ArtNzsPacket nzs, out error))
        {
            made++;
            Use(nzs.ProtVer, nzs.Sequence, nzs.StartCode, nzs.IsVlc, nzs.SlotsMissing);
            Assert.InRange(nzs.PortAddress, 0, 32767);
            Inside(nzs.Slots, data);
        }

        Consistent(error, data);
        if (ArtSyncPacket.TryParse(data, out ArtSyncPacket sync, out error))
        {
            made++;
            Use(sync.ProtVer, sync.Aux);
        }

        Consistent(error, data);
        made += ArtNetRdm(data);
        if (ArtPollPacket.TryParse(data, out ArtPollPacket poll, out error))
        {
            made++;
            Use(poll.ProtVer, poll.Flags, poll.DiagPriority, poll.TargetPortAddressTop, poll.TargetPortAddressBottom);
            Use(poll.EstaMan, poll.Oem);
        }

        Consistent(error, data);
        if (ArtPollReplyPacket.TryParse(data, out ArtPollReplyPacket reply, out error))
        {
            made++;
            Use(reply.Ip, reply.Port, reply.VersInfo, reply.Oem, reply.EstaMan);
            Use(reply.PortName.Length, reply.LongName.Length, reply.NodeReport.Length, reply.NumPorts, reply.Status1);
            Use(reply.BindIp, reply.BindIndex, reply.Status2, reply.Status3, reply.RefreshRate);
            Use(reply.GoodInput.Length, reply.GoodOutputA.Length, reply.GoodOutputB.Length, reply.DefaultRespUid.Length, reply.Mac.Length);
            for (int port = 0; port < ArtPollReplyPacket.Ports; port++)
            {
                Use(reply.IsInput(port), reply.IsOutput(port));
                Assert.InRange(reply.OutputPortAddress(port), 0, 32767);
                Assert.InRange(reply.InputPortAddress(port), 0, 32767);
            }
        }

        Consistent(error, data);
        return made;
    }

    private static int ArtNetRdm(byte[] data)
    {
        int made = 0;
        if (ArtRdmPacket.TryParse(data, out ArtRdmPacket rdm, out WireError error))
        {
            made++;
            Use(rdm.RdmVer, rdm.FifoAvail, rdm.FifoMax, rdm.Command);
            Assert.InRange(rdm.PortAddress, 0, 32767);
            Inside(rdm.Message, data);
        }

        Consistent(error, data);
        if (ArtRdmSubPacket.TryParse(data, out ArtRdmSubPacket sub, out error))
        {
            made++;
            Use(sub.RdmVer, sub.Uid, sub.Parameter, sub.FirstSubDevice, sub.SubCount, sub.ValuesMissing);
            for (int i = 0; i < sub.ValueCount; i++)
            {
                Use(sub.Value(i));
            }
        }

        Consistent(error, data);
        if (ArtTodDataPacket.TryParse(data, out ArtTodDataPacket table, out error))
        {
            made++;
            Use(table.RdmVer, table.Port, table.BindIndex, table.IsNotAvailable, table.UidTotal, table.Block);
            Assert.InRange(table.PortAddress, 0, 32767);
            for (int i = 0; i < table.UidsPresent; i++)
            {
                Use(table.Uid(i));
            }
        }

        Consistent(error, data);
        if (ArtTodRequestPacket.TryParse(data, out ArtTodRequestPacket request, out error))
        {
            made++;
            Use(request.Command, request.AddCount);
            for (int i = 0; i < request.AddressCount; i++)
            {
                Assert.InRange(request.PortAddress(i), 0, 32767);
            }
        }

        Consistent(error, data);
        if (ArtTodControlPacket.TryParse(data, out ArtTodControlPacket control, out error))
        {
            made++;
            Use(control.Command, control.PortAddress);
        }

        Consistent(error, data);
        if (RdmPacket.TryParseWithoutStartCode(data, out RdmPacket message, out error))
        {
            made++;
            Use(message.Source, message.Destination, message.Parameter, message.IsChecksumRight, message.IsDataLengthRight);
            Inside(message.Data, data);
        }

        Consistent(error, data);
        _ = ArtMergeCommand.TryRead(data, out _);
        return made;
    }

    /// <summary>A refusal points into the octets, or just behind them where they end too early.</summary>
    private static void Consistent(WireError error, byte[] data)
    {
        if (error.Kind != WireErrorKind.None)
        {
            Assert.InRange(error.Offset, 0, data.Length);
            Assert.NotEqual(error.Expected, error.Kind == WireErrorKind.Fragment ? -1 : error.Found);
        }

        if (error.Kind == WireErrorKind.Truncated)
        {
            Assert.True(error.Expected > error.Found);
        }
    }

    private static void Inside(ReadOnlySpan<byte> part, byte[] data) =>
        Assert.True(part.IsEmpty || data.AsSpan().Overlaps(part));

    private static void Use(params object?[] values) => GC.KeepAlive(values);
}
