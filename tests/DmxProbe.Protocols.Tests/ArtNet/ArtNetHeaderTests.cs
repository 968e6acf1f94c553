using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

public class ArtNetHeaderTests
{
    // OpCodes: Art-Net 4 (document 1.4dn) Table 1; packets constructed.
    [Theory]
    [InlineData("artaddr.bin", ArtOpCode.Address, "ArtAddress")]
    [InlineData("artcmd.bin", ArtOpCode.Command, "ArtCommand")]
    [InlineData("artdiag.bin", ArtOpCode.DiagData, "ArtDiagData")]
    [InlineData("artdmx.bin", ArtOpCode.Dmx, "ArtDmx")]
    [InlineData("artinput.bin", ArtOpCode.Input, "ArtInput")]
    [InlineData("artipprog.bin", ArtOpCode.IpProg, "ArtIpProg")]
    [InlineData("artipprogreply.bin", ArtOpCode.IpProgReply, "ArtIpProgReply")]
    [InlineData("artnzs.bin", ArtOpCode.Nzs, "ArtNzs")]
    [InlineData("artpoll14.bin", ArtOpCode.Poll, "ArtPoll")]
    [InlineData("artpoll22.bin", ArtOpCode.Poll, "ArtPoll")]
    [InlineData("artrdm.bin", ArtOpCode.Rdm, "ArtRdm")]
    [InlineData("artsync.bin", ArtOpCode.Sync, "ArtSync")]
    [InlineData("arttc.bin", ArtOpCode.TimeCode, "ArtTimeCode")]
    [InlineData("arttodctl.bin", ArtOpCode.TodControl, "ArtTodControl")]
    [InlineData("arttoddata.bin", ArtOpCode.TodData, "ArtTodData")]
    [InlineData("arttodreq.bin", ArtOpCode.TodRequest, "ArtTodRequest")]
    [InlineData("arttrig.bin", ArtOpCode.Trigger, "ArtTrigger")]
    public void The_op_code_tells_the_packet(string file, ArtOpCode opCode, string name)
    {
        Assert.True(ArtNetHeader.TryParse(Vector.Read(file), out ArtNetHeader header, out _));
        Assert.Equal((opCode, 14), (header.OpCode, header.ProtVer));
        Assert.Equal(name, ArtOpCodes.Name(header.OpCode));
    }

    [Fact]
    public void A_poll_reply_has_no_version() // real fault: parsers that read one refuse nodes whose second IP octet is over 14
    {
        byte[] data = Vector.With(Vector.Read("artpollreply.bin"), 10, 10, 200, 0, 1);

        Assert.True(ArtNetHeader.TryParse(data, out ArtNetHeader header, out _));
        Assert.Equal((ArtOpCode.PollReply, -1), (header.OpCode, header.ProtVer));
    }

    [Fact]
    public void An_unknown_op_code_is_kept_and_named_by_its_number()
    {
        Assert.True(ArtNetHeader.TryParse(
            Vector.With(Vector.Read("artdmx.bin"), 8, 0x50, 0x00), out ArtNetHeader header, out _));
        Assert.Equal("OpCode 0x0050", ArtOpCodes.Name(header.OpCode));
    }

    [Fact]
    public void Another_identifier_is_another_protocol_with_its_offset()
    {
        Assert.False(ArtNetHeader.TryParse(Vector.With(Vector.Read("artdmx.bin"), 3, (byte)'_'), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 3, '-', '_'), error);
        Assert.False(ArtNetHeader.TryParse(Vector.Read("sacn_3.bin"), out _, out error));
        Assert.Equal((WireErrorKind.NotThisProtocol, 0), (error.Kind, error.Offset));
    }

    [Fact]
    public void A_cut_header_is_refused_and_an_absent_version_is_told()
    {
        byte[] data = Vector.Read("artsync.bin");
        for (int length = 0; length < 10; length++)
        {
            Assert.False(ArtNetHeader.TryParse(Vector.Cut(data, length), out _, out WireError error));
            Assert.Equal(WireError.Truncated(10, length), error);
        }

        Assert.True(ArtNetHeader.TryParse(Vector.Cut(data, 11), out ArtNetHeader header, out _));
        Assert.Equal(-1, header.ProtVer);
    }

    [Fact]
    public void Every_op_code_has_a_name_of_its_own()
    {
        ArtOpCode[] all = [.. Enum.GetValues<ArtOpCode>().Where(code => code != ArtOpCode.None)];

        Assert.Equal(37, all.Length);
        Assert.All(all, code => Assert.Equal("Art" + code, ArtOpCodes.Name(code)));
    }
}
