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
        int made = Sacn(data) + ArtNet(data) + ArtNetControl(data) + Groups(data);
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
            Use(datagram.ArePortsKnown, datagram.IsLongerThanPacket, datagram.StatedPayloadLength, datagram.UdpChecksum);
            Use(datagram.SourceIpv4, datagram.DestinationIpv4);
            Assert.Equal(datagram.IsIpv6 ? 0 : datagram.Source.Low, datagram.SourceIpv4);
            Assert.Equal(datagram.IsIpv6 ? 0 : datagram.Destination.Low, datagram.DestinationIpv4);
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

    private static int ArtNetControl(byte[] data)
    {
        int made = 0;
        if (ArtAddressPacket.TryParse(data, out ArtAddressPacket address, out WireError error))
        {
            made++;
            Use(address.ProtVer, address.NetSwitch, address.WritesNet, address.BindIndex, address.SubSwitch, address.WritesSub);
            Use(address.AcnPriority, ArtAddressCommand.Name(address.Command), ArtAddressCommand.Port(address.Command));
            Inside(address.PortName, data);
            Inside(address.LongName, data);
            Inside(address.SwIn, data);
            Inside(address.SwOut, data);
        }

        Consistent(error, data);
        if (ArtInputPacket.TryParse(data, out ArtInputPacket input, out error))
        {
            made++;
            Use(input.ProtVer, input.BindIndex, input.NumPorts);
            Inside(input.Input, data);
        }

        Consistent(error, data);
        if (ArtIpProgPacket.TryParse(data, out ArtIpProgPacket program, out error))
        {
            made++;
            Use(program.ProtVer, program.Command, program.IsProgramming, program.ProgIp, program.ProgMask, program.ProgPort);
            Use(program.ProgGateway);
        }

        Consistent(error, data);
        if (ArtIpProgReplyPacket.TryParse(data, out ArtIpProgReplyPacket reply, out error))
        {
            made++;
            Use(reply.ProtVer, reply.ProgIp, reply.ProgMask, reply.ProgPort, reply.Status, reply.IsDhcp, reply.ProgGateway);
        }

        Consistent(error, data);
        if (ArtTimeCodePacket.TryParse(data, out ArtTimeCodePacket time, out error))
        {
            made++;
            Use(time.ProtVer, time.StreamId, time.Frames, time.Seconds, time.Minutes, time.Hours, time.Type, time.IsInRange);
        }

        Consistent(error, data);
        if (ArtDiagDataPacket.TryParse(data, out ArtDiagDataPacket diagnostics, out error))
        {
            made++;
            Use(diagnostics.ProtVer, diagnostics.Priority, diagnostics.LogicalPort, diagnostics.TextLength);
            Inside(diagnostics.Text, data);
        }

        Consistent(error, data);
        if (ArtTriggerPacket.TryParse(data, out ArtTriggerPacket trigger, out error))
        {
            made++;
            Use(trigger.ProtVer, trigger.Oem, trigger.Key, trigger.SubKey);
            Inside(trigger.Data, data);
        }

        Consistent(error, data);
        if (ArtCommandPacket.TryParse(data, out ArtCommandPacket command, out error))
        {
            made++;
            Use(command.ProtVer, command.EstaMan, command.TextLength);
            Inside(command.Text, data);
        }

        Consistent(error, data);
        if (ArtDataRequestPacket.TryParse(data, out ArtDataRequestPacket request, out error))
        {
            made++;
            Use(request.ProtVer, request.EstaMan, request.Oem, request.Request);
        }

        Consistent(error, data);
        return made;
    }

    private static int Groups(byte[] data)
    {
        int made = 0;
        if (ArpPacket.TryParse(data, out ArpPacket arp, out WireError error))
        {
            made++;
            Use(arp.Operation, arp.IsRequest, arp.IsReply, arp.SenderMac, arp.SenderIp, arp.TargetMac, arp.TargetIp);
            Use(arp.IsProbe, arp.IsAnnouncement);
        }

        Consistent(error, data);
        if (IgmpMessage.TryParse(data, out IgmpMessage igmp, out error))
        {
            made++;
            Use(igmp.Kind, igmp.Version, igmp.Group, igmp.IsGeneralQuery, igmp.QueryIntervalSeconds, igmp.IsChecksumRight);
            foreach (GroupRecord record in igmp.Records)
            {
                Use(record.Group, record.Listens, record.Leaves);
            }
        }

        Consistent(error, data);
        if (MldMessage.TryParse(data, out MldMessage mld, out error))
        {
            made++;
            Use(mld.Kind, mld.Version, mld.Group, mld.IsGeneralQuery, mld.QueryIntervalSeconds);
            foreach (GroupRecord record in mld.Records)
            {
                Use(record.Group, record.Listens, record.Leaves);
            }
        }

        Consistent(error, data);
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
