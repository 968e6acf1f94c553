using DmxProbe.Capture.Recording;
using DmxProbe.Capture.Tests.Filters;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Capture.Tests.Recording;

public sealed class SegmentIndexTests : IDisposable
{
    private const long Start = 1_700_000_000_000_000_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-index-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_the_recorder_wrote_is_what_the_segment_says_and_every_entry_is_a_record()
    {
        string segment = Segment();
        SegmentIndex written = SegmentIndex.TryLoad(segment)!;
        AssertSame(written, SegmentIndex.Make(segment));
        Assert.Equal((400L, 1L, 9L), (written.Records, written.Marks, written.Lost));
        Assert.InRange(written.Entries.Count, 40, 42);
        Assert.Equal(written.Entries[3], written.Find(written.Entries[3].Time + Duration.FromMilliseconds(1)));
        Assert.Null(written.Find(Timestamp.FromUnixNanoseconds(0)));

        byte[] bytes = File.ReadAllBytes(segment);
        foreach (IndexEntry entry in written.Entries)
        {
            // The block length stands 4 octets behind the offset; a file cut there holds exactly the records before.
            byte[] cut = bytes[..(int)entry.Offset];
            using MemoryStream stream = new(cut);
            Assert.Equal(entry.Number - 1, CapturedFile.Read(stream).Records.Count);
        }
    }

    [Fact]
    public void A_missing_index_is_made_again()
    {
        string segment = Segment();
        SegmentIndex written = SegmentIndex.TryLoad(segment)!;
        File.Delete(segment + SegmentIndex.Suffix);
        AssertSame(written, SegmentIndex.Of(segment, out bool madeAnew));
        Assert.True(madeAnew);
        Assert.NotNull(SegmentIndex.TryLoad(segment));
    }

    [Fact]
    public void An_index_of_a_segment_that_has_grown_or_shrunk_is_made_again()
    {
        string segment = Segment();
        byte[] bytes = File.ReadAllBytes(segment);
        File.WriteAllBytes(segment, bytes[..(bytes.Length / 2)]);
        Assert.Null(SegmentIndex.TryLoad(segment));
        Assert.InRange(SegmentIndex.Of(segment, out bool madeAnew).Records, 100, 399);
        Assert.True(madeAnew);
    }

    [Fact]
    public void An_index_of_another_segment_of_the_same_length_is_made_again()
    {
        string segment = Segment();
        byte[] bytes = File.ReadAllBytes(segment);
        // The same layout an hour later: every time in it is another.
        string other = Path.Combine(_folder, "other.pcapng");
        File.WriteAllBytes(other, bytes);
        File.Copy(segment + SegmentIndex.Suffix, other + SegmentIndex.Suffix);
        Assert.NotNull(SegmentIndex.TryLoad(other));
        SegmentIndex index = SegmentIndex.TryLoad(other)!;
        bytes[(int)index.Entries[5].Offset + 16] ^= 1;
        File.WriteAllBytes(other, bytes);
        Assert.Null(SegmentIndex.TryLoad(other));
    }

    [Fact]
    public void A_cut_or_damaged_index_is_never_believed_against_the_segment()
    {
        string segment = Segment();
        string path = segment + SegmentIndex.Suffix;
        byte[] whole = File.ReadAllBytes(path);
        SegmentIndex truth = SegmentIndex.Make(segment);
        for (int length = 0; length < whole.Length; length++)
        {
            Assert.Null(SegmentIndex.Parse(whole.AsSpan(0, length)));
        }

        Random random = new(7);
        for (int round = 0; round < 2_000; round++)
        {
            byte[] bytes = [.. whole];
            int at = random.Next(bytes.Length);
            bytes[at] = unchecked((byte)(bytes[at] + random.Next(1, 256)));
            File.WriteAllBytes(path, bytes);
            if (SegmentIndex.TryLoad(segment) is SegmentIndex believed)
            {
                // Only the counts that no entry stands for (marks, losses, the numbers between) can be untrue: places never.
                Assert.Equal(
                    truth.Entries.Select(entry => (entry.Time, entry.Offset)), believed.Entries.Select(entry => (entry.Time, entry.Offset)));
            }
        }

        byte[] noise = new byte[whole.Length];
        random.NextBytes(noise);
        Assert.Null(SegmentIndex.Parse(noise));
    }

    [Fact]
    public void A_list_of_segments_that_names_files_elsewhere_leads_nowhere()
    {
        string segment = Segment();
        string list = Directory.GetFiles(_folder, "*.run.json").Single();
        foreach (string hostile in (string[])
            [
                """{"segments":[{"name":"../../etc/passwd"},{"name":"/etc/passwd"}]}""",
                """{"segments":[{"name":null}]}""",
                """{"segments":7}""",
                "[[[[[[[[[[[[[[[[",
                "",
            ])
        {
            File.WriteAllText(list, hostile);
            using ICaptureSource source = RecordedFolder.Open(_folder);
            Assert.Equal(400, CapturedFile.Read(source).Records.Count);
        }

        Assert.True(File.Exists(segment));
    }

    private static void AssertSame(SegmentIndex expected, SegmentIndex found)
    {
        Assert.Equal(expected.Entries, found.Entries);
        Assert.Equal(
            (expected.SegmentLength, expected.Records, expected.Marks, expected.Lost, expected.Latest),
            (found.SegmentLength, found.Records, found.Marks, found.Lost, found.Latest));
    }

    private string Segment()
    {
        ScriptedSource inner = new("s");
        for (int i = 0; i < 399; i++)
        {
            if (i == 200)
            {
                inner.Loss(Start + (i * 100_000_000L), 9);
            }
            else
            {
                inner.Packet(Start + (i * 100_000_000L), new byte[60]);
            }
        }

        using Recorder recorder = new(new RecorderSettings { Folder = _folder, Clock = TimeProvider.System });
        using RecordingSource source = new(inner, recorder);
        Assert.Equal(ReadStatus.Record, source.Read(out _));
        recorder.Mark("here");
        _ = CapturedFile.Read(source);
        recorder.Finish();
        return Directory.GetFiles(_folder, "*.pcapng").Single();
    }
}
