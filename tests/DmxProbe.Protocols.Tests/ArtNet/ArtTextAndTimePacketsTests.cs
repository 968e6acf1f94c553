using System.Text;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

/// <summary>Time code, diagnostics, triggers and commands, field by field (Art-Net 4, document 1.4dn, pages 58 to 68).</summary>
public class ArtTextAndTimePacketsTests
{
    [Fact]
    public void ArtTimeCode_reads_field_by_field()
    {
        Assert.True(ArtTimeCodePacket.TryParse(Vector.Read("arttc.bin"), out ArtTimeCodePacket packet, out _));
        Assert.Equal((14, 0, 12, 34, 56, 1), (packet.ProtVer, packet.StreamId, packet.Frames, packet.Seconds, packet.Minutes, packet.Hours));
        Assert.Equal((1, 25, true), (packet.Type, packet.FramesPerSecond, packet.IsInRange));
    }

    [Theory]
    [InlineData(14, 25, false)]
    [InlineData(14, 24, true)]
    [InlineData(15, 60, false)]
    [InlineData(16, 60, false)]
    [InlineData(17, 24, false)]
    [InlineData(18, 4, false)]
    public void Time_code_out_of_range_is_told(int offset, byte value, bool inRange)
    {
        Assert.True(ArtTimeCodePacket.TryParse(Vector.With(Vector.Read("arttc.bin"), offset, value), out ArtTimeCodePacket packet, out _));
        Assert.Equal(inRange, packet.IsInRange);
    }

    [Fact]
    public void ArtDiagData_gives_as_much_text_as_is_stated_and_present()
    {
        byte[] data = Vector.Read("artdiag.bin");
        Assert.True(ArtDiagDataPacket.TryParse(data, out ArtDiagDataPacket packet, out _));
        Assert.Equal((0x40, 0, 6, "hello"), (packet.Priority, packet.LogicalPort, packet.TextLength, Encoding.ASCII.GetString(packet.Text)));

        Assert.True(ArtDiagDataPacket.TryParse(Vector.With(data, 16, 0xFF, 0xFF), out packet, out _));
        Assert.Equal("hello", Encoding.ASCII.GetString(packet.Text));
        Assert.True(ArtDiagDataPacket.TryParse(Vector.With(data, 16, 0, 2), out packet, out _));
        Assert.Equal("he", Encoding.ASCII.GetString(packet.Text));
    }

    [Fact]
    public void ArtTrigger_reads_field_by_field_and_may_be_short()
    {
        byte[] data = Vector.Read("arttrig.bin");
        Assert.True(ArtTriggerPacket.TryParse(data, out ArtTriggerPacket packet, out _));
        Assert.Equal((14, 0xFFFF, 1, 7, 512), (packet.ProtVer, packet.Oem, packet.Key, packet.SubKey, packet.Data.Length));
        Assert.True(ArtTriggerPacket.TryParse(Vector.Cut(data, 18), out packet, out _));
        Assert.True(packet.Data.IsEmpty);
    }

    [Fact]
    public void ArtCommand_and_ArtDataRequest_read_field_by_field()
    {
        Assert.True(ArtCommandPacket.TryParse(Vector.Read("artcmd.bin"), out ArtCommandPacket command, out _));
        Assert.Equal((0xFFFF, 18, "SwoutText=Stage&"), (command.EstaMan, command.TextLength, Encoding.ASCII.GetString(command.Text)));

        // Length of page 58; offsets of the fields from memory.
        byte[] request = [.. Vector.Hex("4172742d4e657400 0027 000e 7ff0 1234 0001"), .. new byte[22]];
        Assert.True(ArtDataRequestPacket.TryParse(request, out ArtDataRequestPacket asked, out _));
        Assert.Equal((14, 0x7FF0, 0x1234, 1), (asked.ProtVer, asked.EstaMan, asked.Oem, asked.Request));
        Assert.False(ArtDataRequestPacket.TryParse(Vector.Cut(request, 39), out _, out WireError error));
        Assert.Equal(WireError.Truncated(40, 39), error);
    }

    [Theory]
    [InlineData("arttc.bin", 19)]
    [InlineData("artdiag.bin", 18)]
    [InlineData("arttrig.bin", 18)]
    [InlineData("artcmd.bin", 16)]
    public void They_are_refused_at_every_shorter_length(string file, int needed)
    {
        byte[] data = Vector.Read(file);
        for (int length = 0; length < needed; length++)
        {
            byte[] cut = Vector.Cut(data, length);
            WireError error = file switch
            {
                "arttc.bin" => ArtTimeCodePacket.TryParse(cut, out _, out WireError a) ? default : a,
                "artdiag.bin" => ArtDiagDataPacket.TryParse(cut, out _, out WireError b) ? default : b,
                "arttrig.bin" => ArtTriggerPacket.TryParse(cut, out _, out WireError c) ? default : c,
                _ => ArtCommandPacket.TryParse(cut, out _, out WireError d) ? default : d,
            };
            Assert.Equal(WireError.Truncated(needed, length), error);
        }
    }
}
