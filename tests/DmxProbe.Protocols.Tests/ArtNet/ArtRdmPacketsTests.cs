using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

/// <summary>
/// The Art-Net packets that carry RDM: examples of the folder Vectors (constructed from the published layouts, dissected with
/// tshark 4.0.17), cut at every length.
/// </summary>
public class ArtRdmPacketsTests
{
    private delegate bool Reads(ReadOnlySpan<byte> data, out WireError error);

    [Fact]
    public void ArtRdm_carries_a_message_without_its_start_code()
    {
        byte[] data = Vector.Read("artrdm.bin");
        Assert.True(ArtRdmPacket.TryParse(data, out ArtRdmPacket packet, out _));
        Assert.Equal((1, 0x123, 0), (packet.RdmVer, packet.PortAddress, packet.Command));
        Assert.True(RdmPacket.TryParseWithoutStartCode(packet.Message, out RdmPacket rdm, out _));
        Assert.Equal(("7FF0:12345678", "7FF0:00000001", 0xF0, 0x05EA), (rdm.Source.ToString(), rdm.Destination.ToString(), rdm.Parameter, rdm.Checksum));
        Assert.True(rdm.IsChecksumRight);
        Assert.True(rdm.IsDataLengthRight);
        Refused(data, ArtRdmPacket.HeaderLength, (ReadOnlySpan<byte> cut, out WireError error) => ArtRdmPacket.TryParse(cut, out _, out error));
        for (int length = 0; length < packet.Message.Length; length++)
        {
            Assert.False(RdmPacket.TryParseWithoutStartCode(packet.Message[..length].ToArray(), out _, out WireError error));
            Assert.Equal(WireErrorKind.Truncated, error.Kind);
        }
    }

    [Fact]
    public void ArtTodData_lists_devices()
    {
        byte[] data = Vector.Read("arttoddata.bin");
        Assert.True(ArtTodDataPacket.TryParse(data, out ArtTodDataPacket packet, out _));
        Assert.Equal((1, 1, 0x123, false, 2, 0, 2), (packet.Port, packet.BindIndex, packet.PortAddress, packet.IsNotAvailable, packet.UidTotal, packet.Block, packet.UidsPresent));
        Assert.Equal(("7FF0:00000001", "7FF0:00000002"), (packet.Uid(0).ToString(), packet.Uid(1).ToString()));
        Refused(data, ArtTodDataPacket.HeaderLength, (ReadOnlySpan<byte> cut, out WireError error) => ArtTodDataPacket.TryParse(cut, out _, out error));

        // Devices that the count states and the packet does not hold are left out.
        Assert.True(ArtTodDataPacket.TryParse(Vector.Cut(data, data.Length - 1), out packet, out _));
        Assert.Equal((2, 1), ((int)packet.UidCount, packet.UidsPresent));
        Assert.True(ArtTodDataPacket.TryParse(Vector.With(data, 22, 0xFF), out packet, out _));
        Assert.True(packet.IsNotAvailable);
    }

    [Fact]
    public void ArtTodRequest_and_ArtTodControl_name_the_Port_Addresses()
    {
        byte[] data = Vector.Read("arttodreq.bin");
        Assert.True(ArtTodRequestPacket.TryParse(data, out ArtTodRequestPacket request, out _));
        Assert.Equal((0, 1, 0x123), (request.Command, request.AddressCount, request.PortAddress(0)));
        Refused(data, ArtTodRequestPacket.HeaderLength, (ReadOnlySpan<byte> cut, out WireError error) => ArtTodRequestPacket.TryParse(cut, out _, out error));
        Assert.True(ArtTodRequestPacket.TryParse(Vector.With(data, 23, 200), out request, out _));
        Assert.Equal(32, request.AddressCount);

        data = Vector.Read("arttodctl.bin");
        Assert.True(ArtTodControlPacket.TryParse(data, out ArtTodControlPacket control, out _));
        Assert.Equal((1, 0x123), (control.Command, control.PortAddress));
        Refused(data, ArtTodControlPacket.Length, (ReadOnlySpan<byte> cut, out WireError error) => ArtTodControlPacket.TryParse(cut, out _, out error));
    }

    [Fact]
    public void ArtRdmSub_carries_values_of_sub_devices_only_where_they_are_answered_or_set()
    {
        // Constructed from the layout of Art-Net 4 (1.4dn) page 105: GET_RESPONSE of DMX_START_ADDRESS of sub-devices 1 and 2.
        byte[] data = Vector.Hex("4172742d4e657400 0084 000e 01 00 7ff012345678 00 21 00f0 0001 0002 00000000 0065 0071");
        Assert.True(ArtRdmSubPacket.TryParse(data, out ArtRdmSubPacket packet, out _));
        Assert.Equal(("7FF0:12345678", RdmCommandClass.GetResponse, 0xF0, 1, 2), (packet.Uid.ToString(), packet.CommandClass, packet.Parameter, packet.FirstSubDevice, packet.ValueCount));
        Assert.Equal((101, 113), (packet.Value(0), packet.Value(1)));
        Refused(data, ArtRdmSubPacket.HeaderLength, (ReadOnlySpan<byte> cut, out WireError error) => ArtRdmSubPacket.TryParse(cut, out _, out error));
        Assert.True(ArtRdmSubPacket.TryParse(Vector.Cut(data, data.Length - 1), out packet, out _));
        Assert.Equal((1, 1), (packet.ValueCount, packet.ValuesMissing));
        Assert.True(ArtRdmSubPacket.TryParse(Vector.With(data, 21, 0x20), out packet, out _));
        Assert.Equal(0, packet.ValueCount);
    }

    [Fact]
    public void The_command_of_ArtAddress_is_read_where_it_is_about_merging()
    {
        byte[] data = Vector.Read("artaddr.bin");
        byte[] latest = Vector.With(Vector.With(data, 106, 0x10), 13, 0);
        Assert.True(ArtMergeCommand.TryRead(latest, out ArtMergeCommand command));
        Assert.Equal((0x10, 1), (command.Command, command.BindIndex));
        Assert.True(ArtMergeCommand.TryRead(Vector.With(data, 106, 0x01), out _));
        Assert.True(ArtMergeCommand.TryRead(Vector.With(data, 106, 0x53), out _));
        Assert.False(ArtMergeCommand.TryRead(Vector.With(data, 106, 0x02), out _));
        Assert.False(ArtMergeCommand.TryRead(Vector.Cut(latest, 106), out _));
    }

    [Fact]
    public void The_data_of_DEVICE_INFO_and_SLOT_INFO_are_read()
    {
        // standards-facts D6 numbers 4 and 6.
        Assert.True(RdmDeviceInfo.TryRead(Vector.Hex("0100 0042 0102 00010203 0010 02 03 0065 0000 01"), out RdmDeviceInfo info));
        Assert.Equal(new RdmDeviceInfo(0x42, 0x102, 0x10203, 16, 2, 3, 101, 0), info);
        Assert.False(RdmDeviceInfo.TryRead(Vector.Hex("0100 0042"), out _));
        Assert.Equal("intensity", new RdmSlotLabel(0, 0, 1).Words);
        Assert.Equal("fine of slot 1", new RdmSlotLabel(1, 1, 0).Words);
        Assert.Equal("pan", new RdmSlotLabel(2, 0, 0x101).Words);
    }

    private static void Refused(byte[] data, int needed, Reads reads)
    {
        for (int length = 0; length < needed; length++)
        {
            Assert.False(reads(Vector.Cut(data, length), out WireError error));
            Assert.Equal(WireError.Truncated(needed, length), error);
        }

        Assert.False(reads(Vector.Read("artsync.bin"), out WireError other));
        Assert.Equal(WireErrorKind.NotThisProtocol, other.Kind);
    }
}
