using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class CaptureFileReaderTests
{
    private const string NoCapture = "not a capture file at byte 0: expected a pcap or pcapng file, a VCD or CSV recording of a line, or the session zip of a logic analyser, found ";
    private const string SaveAs = "; give --rate if these are raw samples; see docs/formats.md";
    private const string SaveAgain = "; save the capture as pcapng and try again";

    [Theory]
    [InlineData("", "the file is empty; check that the capture was saved")]
    [InlineData("504B0304140000", "the zip archive is cut or damaged: expected a directory at its end, or a member named metadata at its start, found neither; copy it again")]
    [InlineData("2474696D657363616C6520", "the VCD file ends inside its header at byte 11: expected $enddefinitions $end, found the end of the file; nothing could be read before it")]
    [InlineData("636166C3A90A", NoCapture + "text" + SaveAs)]
    [InlineData("28B52FFD00", NoCapture + "a zstd-packed file; unpack it first")]
    [InlineData("425A6839", NoCapture + "a bzip2-packed file; unpack it first")]
    [InlineData("FD377A585A0000", NoCapture + "an xz-packed file; unpack it first")]
    [InlineData("736E6F6F7000000000000002", NoCapture + "a snoop capture (RFC 1761)" + SaveAs)]
    [InlineData("34CDB2A102000400", NoCapture + "a modified pcap (magic A1B2CD34) with another record layout" + SaveAs)]
    [InlineData("A1B2CD3400020004", NoCapture + "a modified pcap (magic A1B2CD34) with another record layout" + SaveAs)]
    [InlineData("A1B234CD00020004", NoCapture + "a modified pcap (magic A1B234CD) with another record layout" + SaveAs)]
    [InlineData("0000000000000000", NoCapture + "zeros" + SaveAs)]
    [InlineData("DEADBEEF0102", NoCapture + "DEADBEEF" + SaveAs)]
    [InlineData("D4", NoCapture + "D4" + SaveAs)]
    [InlineData("D4C3B2A10200", "the file ends inside the pcap file header at byte 0: expected 24 octets, found 6; no record could be read before it")]
    [InlineData("D4C3B2A1020003000000000000000000FFFF000001000000", "a pcap file of another version at byte 4: expected version 2.4, found 2.3" + SaveAgain)]
    [InlineData("0A0D0D0A1C000000", "the file ends inside a pcapng block header at byte 0: expected 12 octets, found 8; no record could be read before it")]
    [InlineData("0A0D0D0A1C0000004D3C2B1A0100", "the file ends inside a pcapng block at byte 0: expected 28 octets, found 14; no record could be read before it")]
    [InlineData("0A0D0D0A1C0000001122334401000000", "a pcapng section does not state its byte order at byte 8: expected 1A2B3C4D in either order, found 11223344; no record could be read before it")]
    [InlineData("0A0D0D0A1C0000004D3C2B1A02000000FFFFFFFFFFFFFFFF1C000000", "a pcapng section of another version at byte 12: expected version 1.0, found 2.0; no record could be read before it")]
    [InlineData("0A0D0D0A140000004D3C2B1A0100000014000000", "a pcapng section header is too short at byte 4: expected 28 octets, found 20; no record could be read before it")]
    public void What_is_no_capture_is_refused_with_one_sentence(string hex, string sentence)
    {
        InputException refusal = Assert.Throws<InputException>(
            () => CaptureFileReader.Open(new MemoryStream(Convert.FromHexString(hex)), "show.pcap"));
        Assert.Equal("show.pcap: " + sentence, refusal.Message);
        Assert.Equal("show.pcap", refusal.InputName);
    }

    [Theory]
    [InlineData("68656C6C6F", "the gzip file holds no capture at byte 0 of the unpacked data: expected a pcap or pcapng file, a VCD or CSV recording of a line, or the session zip of a logic analyser, found text" + SaveAs)]
    [InlineData("1F8B0800", "the gzip file holds no capture at byte 0 of the unpacked data: expected a pcap or pcapng file, a VCD or CSV recording of a line, or the session zip of a logic analyser, found a gzip file inside a gzip file; unpack it first")]
    [InlineData("D4C3B2A10200", "the file ends inside the pcap file header at byte 0 of the unpacked data: expected 24 octets, found 6; no record could be read before it")]
    public void What_is_no_capture_inside_gzip_is_refused_with_one_sentence(string hex, string sentence)
    {
        InputException refusal = Assert.Throws<InputException>(
            () => CaptureFileReader.Open(new MemoryStream(CapturedFile.Gzip(Convert.FromHexString(hex))), "x"));
        Assert.Equal("x: " + sentence, refusal.Message);
    }

    // RFC 1952: a header of 10 octets, an empty deflate block, checksum 0, length 0.
    [Fact]
    public void An_empty_gzip_file_is_refused_with_one_sentence()
    {
        byte[] empty = Convert.FromHexString("1F8B08000000000000FF" + "0300" + "0000000000000000");
        InputException refusal = Assert.Throws<InputException>(() => CaptureFileReader.Open(new MemoryStream(empty), "x"));
        Assert.Equal("x: the gzip file holds nothing; check that the capture was saved", refusal.Message);
    }

    [Fact]
    public void A_refused_stream_is_closed_and_so_is_one_that_was_read()
    {
        MemoryStream refused = new([1, 2, 3, 4]);
        Assert.Throws<InputException>(() => CaptureFileReader.Open(refused, "x"));
        Assert.False(refused.CanRead);

        foreach (byte[] bytes in (byte[][])[CaptureVectors.Load("us_le.pcap"), CapturedFile.Gzip(CaptureVectors.Load("tiny.pcapng"))])
        {
            MemoryStream read = new(bytes);
            CaptureFileReader.Open(read, "x").Dispose();
            Assert.False(read.CanRead);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(4_096)]
    public void The_records_do_not_depend_on_how_the_stream_hands_out_its_bytes(int most)
    {
        foreach (string name in CaptureVectors.Names)
        {
            byte[] bytes = CaptureVectors.Load(name);
            CapturedFile whole = CapturedFile.Read(bytes);
            Assert.Null(whole.Problem);
            Assert.NotEmpty(whole.Records);
            foreach (byte[] form in (byte[][])[bytes, CapturedFile.Gzip(bytes)])
            {
                CapturedFile trickled = CapturedFile.Read(new TrickleStream(form, most));
                Assert.Equal(whole.Records, trickled.Records);
                Assert.Equal(whole.Interfaces, trickled.Interfaces);
                Assert.Null(trickled.Problem);
            }
        }
    }

    [Fact]
    public void A_record_is_delivered_as_soon_as_its_bytes_are_there()
    {
        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8]).ToArray();
        TrickleStream stream = new(bytes, 41);
        using ICaptureSource source = CaptureFileReader.Open(stream, "pipe");
        Assert.Equal(ReadStatus.Record, source.Read(out _));
        Assert.Equal(41, stream.HandedOut);
    }

    [Fact]
    public void A_stream_that_fails_ends_the_file_with_a_sentence()
    {
        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8]).ToArray();
        CapturedFile file = CapturedFile.Read(new TrickleStream(bytes[..45], 45, new IOException("the disk went away")));
        Assert.Single(file.Records);
        Assert.Equal(
            "the input could not be read further at byte 45: found the disk went away; the 1 record before it was read",
            file.Problem?.ToString());
    }
}
