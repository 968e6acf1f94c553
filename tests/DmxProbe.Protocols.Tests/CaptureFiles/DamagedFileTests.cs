using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class DamagedFileTests
{
    public static TheoryData<string> Files() => [.. Samples().Keys];

    [Theory]
    [MemberData(nameof(Files))]
    public void A_file_cut_anywhere_gives_the_records_before_the_cut_and_one_sentence(string name)
    {
        byte[] bytes = Samples()[name];
        CapturedFile whole = CapturedFile.Read(bytes);
        Assert.Null(whole.Problem);
        int withoutProblem = 0;
        int most = 0;
        for (int length = 1; length < bytes.Length; length++)
        {
            if (ReadCut(bytes, length) is CapturedFile cut)
            {
                AssertPrefix(whole, cut);
                Assert.True(cut.Records.Count >= most, "a longer piece gave fewer records");
                most = cut.Records.Count;
                withoutProblem += cut.Problem is null ? 1 : 0;
            }
        }

        // Cuts exactly between two records or blocks cannot be seen in the file; all others must be.
        int between = name.StartsWith("joined", StringComparison.Ordinal) ? 14 : name.StartsWith("pcapng", StringComparison.Ordinal) ? 6 : 3;
        Assert.Equal(between, withoutProblem);
        Assert.Equal(whole.Records.Count - (name.StartsWith("joined", StringComparison.Ordinal) ? 0 : 1), most);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void A_gzip_file_cut_anywhere_gives_the_records_before_the_cut_and_says_that_it_is_cut(string name)
    {
        byte[] bytes = Samples()[name];
        CapturedFile whole = CapturedFile.Read(bytes);
        byte[] packed = CapturedFile.Gzip(bytes);
        for (int length = 1; length < packed.Length; length++)
        {
            if (ReadCut(packed, length) is not CapturedFile cut)
            {
                continue;
            }

            AssertPrefix(whole, cut);
            string sentence = cut.Problem?.ToString() ?? "";
            Assert.StartsWith("the gzip file is cut short at byte ", sentence, StringComparison.Ordinal);
            // All but the 8 octets of checksum and length: everything could be unpacked.
            Assert.True(length < packed.Length - 8 || cut.Records.Count == whole.Records.Count);
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void A_gzip_file_with_a_wrong_octet_gives_the_records_before_it(string name)
    {
        byte[] bytes = Samples()[name];
        CapturedFile whole = CapturedFile.Read(bytes);
        byte[] packed = CapturedFile.Gzip(bytes);
        for (int at = 10; at < packed.Length; at++)
        {
            byte[] wrong = [.. packed];
            wrong[at] ^= 0x55;
            foreach (bool canSeek in (bool[])[true, false])
            {
                CapturedFile? file = TryRead(canSeek ? new MemoryStream(wrong) : new TrickleStream(wrong, 100));
                Assert.False(file is not null && file.Problem is null, $"the wrong octet {at} went unseen");
                if (at >= packed.Length - 8 && canSeek)
                {
                    // Only the checksum or the length is wrong: every record was there.
                    Assert.Equal(whole.Records, file!.Records);
                }
            }
        }
    }

    [Fact]
    public void Damage_inside_gzip_has_its_sentences()
    {
        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8, 9]).ToArray();
        byte[] packed = CapturedFile.Gzip(bytes);
        Assert.Equal(
            "the gzip file is cut short at byte 59 of the unpacked data: expected more packed data, found the end of the file; the 2 records before it were read",
            CapturedFile.Read(packed[..^3]).Problem?.ToString());
        packed[^6] ^= 1;
        Assert.Equal(
            "the gzip file is damaged at byte 59 of the unpacked data: expected packed data with a right checksum, found data that cannot be unpacked; the 2 records before it were read",
            CapturedFile.Read(packed).Problem?.ToString());
        Assert.Equal(
            "the file ends inside record 2 at byte 41 of the unpacked data: expected 18 octets, found 17; the 1 record before it was read",
            CapturedFile.Read(CapturedFile.Gzip(bytes[..^1])).Problem?.ToString());
    }

    [Fact]
    public void Gzip_members_one_after_another_are_one_file_and_zeros_after_them_do_no_harm()
    {
        byte[] bytes = CaptureVectors.Load("all.pcapng");
        byte[] members = [.. CapturedFile.Gzip(bytes[..1000]), .. CapturedFile.Gzip(bytes[1000..1001]), .. CapturedFile.Gzip(bytes[1001..])];
        CapturedFile whole = CapturedFile.Read(bytes);
        foreach (byte[] form in (byte[][])[members, [.. members, .. new byte[512]]])
        {
            CapturedFile file = CapturedFile.Read(form);
            Assert.Null(file.Problem);
            Assert.Equal(whole.Records, file.Records);
        }

        Assert.NotNull(CapturedFile.Read(members[..^1]).Problem);
    }

    // RFC 1952: header flags for an extra field, a name, a comment and a header checksum are left to the library; a name is common.
    [Fact]
    public void A_gzip_header_with_a_file_name_is_read()
    {
        byte[] packed = CapturedFile.Gzip(CaptureVectors.Load("us_le.pcap"));
        byte[] named = [.. packed[..3], 0x08, .. packed[4..10], .. "show.pcap\0"u8, .. packed[10..]];
        CapturedFile file = CapturedFile.Read(named);
        Assert.Null(file.Problem);
        Assert.Single(file.Records);
    }

    [Fact]
    public void Random_octets_after_any_header_end_with_a_sentence_or_a_plain_end()
    {
        Random random = new(99);
        byte[][] heads =
        [
            [],
            new CaptureBytes().PcapHeader().ToArray(),
            new CaptureBytes(true).PcapHeader(0xA1B23C4D).ToArray(),
            new CaptureBytes().Section().Interface().ToArray(),
            new CaptureBytes(true).Section().Interface().ToArray(),
            [0x1F, 0x8B, 8, 0, 0, 0, 0, 0, 0, 3],
        ];
        for (int round = 0; round < 6_000; round++)
        {
            byte[] noise = new byte[random.Next(400)];
            random.NextBytes(noise);
            // Small numbers reach further into the parsers than large ones.
            for (int i = 0; i < noise.Length; i++)
            {
                noise[i] = random.Next(3) == 0 ? noise[i] : (byte)(random.Next(2) == 0 ? 0 : noise[i] & 7);
            }

            _ = TryRead(new MemoryStream([.. heads[round % heads.Length], .. noise]));
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Changed_files_never_throw_and_never_give_more_than_they_hold(string name)
    {
        byte[] bytes = Samples()[name];
        Random random = new(name.Length);
        for (int round = 0; round < 1_500; round++)
        {
            byte[] changed = [.. bytes];
            for (int change = random.Next(1, 5); change > 0; change--)
            {
                int at = random.Next(bytes.Length);
                changed[at] = random.Next(3) switch { 0 => (byte)random.Next(256), 1 => 0xFF, _ => (byte)(changed[at] ^ (1 << random.Next(8))) };
            }

            if (TryRead(new MemoryStream(changed)) is CapturedFile file)
            {
                Assert.True(file.Records.Sum(r => r.Data.Length / 2) <= bytes.Length);
            }
        }
    }

    private static Dictionary<string, byte[]> Samples()
    {
        CaptureBytes Pcap(bool bigEndian, uint magic) => new CaptureBytes(bigEndian).PcapHeader(magic, 100)
            .PcapRecord(1_700_000_000, 5, [1, 2, 3]).PcapRecord(1_700_000_001, 6, [], 60).PcapRecord(1_700_000_002, 7, new byte[60]);
        CaptureBytes Section(bool bigEndian) => new CaptureBytes(bigEndian).Section()
            .Interface(options: o => o.Option(2, "eth0"u8).Option(9, [9])).Interface(276, 64)
            .Enhanced(0, 5, [1, 2, 3], options: o => o.Option(1, "a comment"u8).Option(4, 2).U32(0))
            .Statistics(1, 6, o => o.Option(5, 4)).Block(0x80000001, b => b.Raw("mark"u8))
            .Enhanced(1, 7, new byte[60], 90);
        return new Dictionary<string, byte[]>
        {
            ["us little"] = Pcap(false, 0xA1B2C3D4).ToArray(),
            ["us big"] = Pcap(true, 0xA1B2C3D4).ToArray(),
            ["ns little"] = Pcap(false, 0xA1B23C4D).ToArray(),
            ["ns big"] = Pcap(true, 0xA1B23C4D).ToArray(),
            ["pcapng little"] = Section(false).ToArray(),
            ["pcapng big"] = Section(true).ToArray(),
            ["joined pcapng"] = [.. Section(false).ToArray(), .. Section(true).ToArray(), .. new CaptureBytes().Section().ToArray()],
        };
    }

    private static void AssertPrefix(CapturedFile whole, CapturedFile cut)
    {
        Assert.Equal(whole.Records.Take(cut.Records.Count), cut.Records);
        Assert.Equal(whole.Interfaces.Take(cut.Interfaces.Count), cut.Interfaces);
    }

    /// <summary>The first octets of a file, in an array no longer than they are.</summary>
    private static CapturedFile? ReadCut(byte[] bytes, int length) => TryRead(new MemoryStream(bytes[..length]));

    /// <summary>Null where opening refused with one sentence.</summary>
    private static CapturedFile? TryRead(Stream stream)
    {
        CapturedFile file;
        try
        {
            file = CapturedFile.Read(stream);
        }
        catch (InputException refusal)
        {
            AssertOneSentence(refusal.Problem);
            return null;
        }

        if (file.Problem is not null)
        {
            AssertOneSentence(file.Problem);
        }

        return file;
    }

    private static void AssertOneSentence(InputProblem problem)
    {
        string sentence = problem.ToString();
        Assert.True(char.IsLower(sentence[0]), sentence);
        Assert.DoesNotContain('\n', sentence);
        Assert.InRange(sentence.Length, 10, 250);
        Assert.True(problem.Where.Length > 0 || problem.What.EndsWith("is empty", StringComparison.Ordinal) || problem.What.EndsWith("nothing", StringComparison.Ordinal), sentence);
    }
}
