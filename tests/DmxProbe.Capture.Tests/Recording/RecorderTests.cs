using System.Buffers.Binary;
using DmxProbe.Capture.Files;
using DmxProbe.Capture.Recording;
using DmxProbe.Capture.Tests.Files;
using DmxProbe.Capture.Tests.Filters;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Files;

namespace DmxProbe.Capture.Tests.Recording;

public sealed class RecorderTests : IDisposable
{
    private static readonly long Start = 1_700_000_000_000_000_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-rec-").FullName;
    private readonly List<RecordingNotice> _notices = [];

    public void Dispose()
    {
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    [Fact]
    public void Whoever_reads_through_the_recorder_and_whoever_reads_the_folder_see_the_same()
    {
        CapturedFile through = Record(Script(500), Settings() with { SegmentTime = Duration.FromMilliseconds(700) });
        CapturedFile folder = Open();
        Assert.Equal(through.Records.Select(Shown), folder.Records.Select(Shown));
        Assert.Equal(through.Interfaces.Select(Face), folder.Interfaces.Select(Face));
        Assert.Null(folder.Problem);
        Assert.True(Segments().Length >= 7, $"{Segments().Length} segments");
        Assert.Equal("20231114T221320Z.pcapng", Segments()[0]);
    }

    [Fact]
    public void Segments_end_at_their_size()
    {
        Record(Script(500), Settings() with { SegmentSize = 10_000 });
        Assert.InRange(Segments().Length, 3, 100);
        Assert.All(Segments()[..^1], name => Assert.InRange(new FileInfo(Path.Combine(_folder, name)).Length, 10_000, 12_000));
        Assert.Equal(500, Open().Records.Count);
    }

    [Fact]
    public void An_existing_file_is_never_overwritten()
    {
        string taken = Path.Combine(_folder, "20231114T221320Z.pcapng");
        File.WriteAllText(taken, "somebody else's");
        Record(Script(10), Settings());
        Record(Script(10), Settings());
        Assert.Equal("somebody else's", File.ReadAllText(taken));
        Assert.Equal(["20231114T221320Z.pcapng", "20231114T221320Z_2.pcapng", "20231114T221320Z_3.pcapng"], Segments());
        Assert.Equal(2, Directory.GetFiles(_folder, "*.run.json").Length);

        // What cannot be read is named, and the rest is read: both runs, merged, for they are of the same time.
        CapturedFile folder = Open();
        Assert.Equal(20, folder.Records.Count);
        Assert.Contains("20231114T221320Z.pcapng: not a capture file", folder.Problem!.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Losses_come_back_as_they_were()
    {
        ScriptedSource source = new ScriptedSource("s").Packet(Start, 1).Loss(Start + 1, 7).Packet(Start + 2, 2).Loss(Start + 3, 4, interfaceId: 1).Loss(Start + 4, 5);
        Record(source, Settings());
        Assert.Equal([0L, 7, 0, 4, 5], Open().Records.Select(record => record.LostBefore));
        Assert.Equal(
            [RecordKind.Packet, RecordKind.Loss, RecordKind.Packet, RecordKind.Loss, RecordKind.Loss], Open().Records.Select(record => record.Kind));
    }

    [Fact]
    public void A_clock_set_back_an_hour_keeps_the_order_in_which_records_came()
    {
        ScriptedSource source = new("s");
        for (int i = 0; i < 40; i++)
        {
            source.Packet(Start + (i * 100_000_000L) - (i >= 20 ? 3_600_000_000_000 : 0), (byte)i);
        }

        Record(source, Settings() with { SegmentTime = Duration.FromSeconds(1) });
        Assert.InRange(Segments().Length, 4, 6);
        Assert.Equal(Enumerable.Range(0, 40).Select(i => ((byte)i).ToString("X2")), Open().Records.Select(record => record.Data));
    }

    [SkippableTheory]
    [InlineData("captures", "net", "gen_artnet_any_sll2.pcap")]
    [InlineData("captures", "net", "real_sacn_loopback_null_u1.pcapng")]
    [InlineData("captures", "net", "gen_artnet_vlan20_qinq.pcap")]
    public void Libpcap_opens_what_was_recorded_from_any_link_type_with_marks_and_all(params string[] parts)
    {
        string? path = Places.SharedFile(parts);
        Skip.If(path is null, Places.NoShared);
        Skip.IfNot(LibpcapReader.IsPresent, LibpcapReader.Absent);
        CapturedFile sent;
        using (ICaptureSource source = CaptureFile.Open(path))
        {
            sent = Record(source, Settings(), "LX1-6 flickers", "a second one");
        }

        List<LibpcapPacket> theirs = LibpcapReader.Read(Path.Combine(_folder, Segments().Single()));
        CapturedRecord[] packets = [.. Open().Records.Where(record => record.Kind == RecordKind.Packet)];
        Assert.NotEmpty(packets);
        Assert.Equal(sent.Records.Count(record => record.Kind == RecordKind.Packet), packets.Length);
        Assert.Equal(theirs, packets.Select(packet => new LibpcapPacket(packet.Time.UnixNanoseconds, packet.OriginalLength, packet.Data)));
        Assert.Equal(2, Open().Records.Count(record => record.Kind == RecordKind.Mark));
        Assert.All(packets, packet => Assert.Equal(LinkType.Ethernet, packet.LinkType));
    }

    [SkippableFact]
    public void Tcpdump_opens_it_and_counts_the_same()
    {
        Record(Script(200), Settings(), "a mark");
        System.Diagnostics.ProcessStartInfo start = new("tcpdump", ["-nn", "-r", Path.Combine(_folder, Segments().Single())])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        System.Diagnostics.Process? tool = null;
        try
        {
            tool = System.Diagnostics.Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
        }

        Skip.If(tool is null, "needs tcpdump");
        using (tool)
        {
            int lines = tool.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Count(line => char.IsAsciiDigit(line[0]));
            tool.WaitForExit();
            Assert.Equal(0, tool.ExitCode);
            Assert.Equal(200, lines);
        }
    }

    [Fact]
    public void A_packet_of_a_link_type_that_nobody_knows_is_kept_as_it_is()
    {
        CaptureBytes bytes = new CaptureBytes().Section().Interface(linkType: 105, snapLength: 400).Enhanced(0, 5_000_000, [1, 2, 3], original: 9);
        string path = Path.Combine(_folder, "radio.pcap");
        File.WriteAllBytes(path, bytes.ToArray());
        CapturedFile sent;
        using (ICaptureSource source = CaptureFile.Open(path))
        {
            sent = Record(source, Settings());
        }

        CapturedFile read = Open();
        Assert.Equal(sent.Records, read.Records);
        Assert.Equal(sent.Interfaces, read.Interfaces);
    }

    [Fact]
    public void A_mark_left_in_the_folder_gets_into_the_recording_and_its_file_goes()
    {
        using Recorder recorder = new(Settings());
        using RecordingSource source = new(new EndlessSource(), recorder);
        string file = MarkSpool.Leave(_folder, "LX1-6 \u001b[2J", Timestamp.FromUnixNanoseconds(Start));
        File.WriteAllText(Path.Combine(_folder, "mark-12-toolarge.txt"), new string('x', 5_000));
        File.WriteAllText(Path.Combine(_folder, "mark-nonsense.txt"), "x");
        DateTime patience = DateTime.UtcNow.AddSeconds(20);
        while (File.Exists(file) && DateTime.UtcNow < patience)
        {
            Assert.Equal(ReadStatus.Record, source.Read(out _));
            Thread.Sleep(1);
        }

        Assert.False(File.Exists(file));
        Assert.True(File.Exists(Path.Combine(_folder, "mark-nonsense.txt")));
        recorder.Finish();
        CapturedRecord mark = Assert.Single(Open().Records, record => record.Kind == RecordKind.Mark);
        Assert.Equal("LX1-6 \u001b[2J", System.Text.Encoding.UTF8.GetString(Convert.FromHexString(mark.Data)));
        Assert.Equal(Start, mark.Time.UnixNanoseconds);
    }

    [Fact]
    public void The_ring_deletes_only_its_own_and_keeps_what_a_mark_saved()
    {
        string other = Path.Combine(_folder, "20231114T221319Z.pcapng");
        File.WriteAllBytes(other, new CaptureBytes().Section().ToArray());
        using Recorder recorder = new(Settings() with { Ring = Duration.FromMilliseconds(300), SegmentTime = Duration.FromMilliseconds(100) });
        using RecordingSource source = new(new Paced(), recorder);
        Pump(source, 900);
        Assert.InRange(recorder.Status.Deleted, 2, 8);
        string[] before = Segments();
        recorder.Mark("keep this");
        Pump(source, 1_200);
        recorder.Finish();
        Assert.Subset(Segments().ToHashSet(), before.ToHashSet());
        Assert.True(File.Exists(other));
        Assert.True(recorder.Status.Deleted > 2);
        Assert.Contains("a mark", File.ReadAllText(Directory.GetFiles(_folder, "*.run.json").Single()), StringComparison.Ordinal);
    }

    [Fact]
    public void The_ring_leaves_a_file_that_somebody_changed()
    {
        using Recorder recorder = new(Settings() with { Ring = Duration.FromMilliseconds(200), SegmentTime = Duration.FromMilliseconds(100) });
        using RecordingSource source = new(new Paced(), recorder);
        Pump(source, 150);
        string first = Path.Combine(_folder, Segments()[0]);
        File.WriteAllText(first, "somebody else's");
        Pump(source, 600);
        recorder.Finish();
        Assert.Equal("somebody else's", File.ReadAllText(first));
        Assert.Contains(_notices, notice => notice.Id == "segment-changed");
    }

    [Fact]
    public void A_folder_removed_while_recording_is_made_again_with_what_the_segment_held()
    {
        using Recorder recorder = new(Settings());
        using RecordingSource source = new(new Paced(), recorder);
        Pump(source, 400);
        Directory.Delete(_folder, recursive: true);
        Pump(source, 2_000);
        long passed = recorder.Status.Records;
        recorder.Finish();
        RecordingNotice notice = Assert.Single(_notices);
        Assert.Equal("segment-removed", notice.Id);
        Assert.Equal(Enumerable.Range(1, (int)passed).Select(i => (long)i), Numbers());
    }

    [Fact]
    public void A_nearly_full_disk_is_announced_before_anything_is_lost_and_once()
    {
        long free = 900_000_000;
        using Recorder recorder = new(Settings() with { FreeSpace = _ => free });
        Assert.Equal("disk-nearly-full", Assert.Single(_notices).Id);
        using RecordingSource source = new(new Paced(), recorder);
        Pump(source, 1_300);
        Assert.Single(_notices);
        free = 90_000_000;
        Pump(source, 1_300);
        Assert.Equal(["disk-nearly-full", "disk-almost-full"], _notices.Select(notice => notice.Id));
        Assert.Contains("nothing is lost yet", _notices[1].Text, StringComparison.Ordinal);
        Assert.Equal(0, recorder.Status.NotRecorded);
    }

    [SkippableFact]
    public void A_full_disk_loses_nothing_that_was_recorded_and_recording_goes_on_when_there_is_room()
    {
        Skip.IfNot(OperatingSystem.IsLinux(), "mounts a tmpfs");
        string disk = Directory.CreateDirectory(Path.Combine(_folder, "disk")).FullName;
        Skip.IfNot(Run("mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", disk), "needs the right to mount a tmpfs");
        try
        {
            string ballast = Path.Combine(disk, "ballast");
            File.WriteAllBytes(ballast, new byte[1_000_000]);
            using Recorder recorder = new(Settings() with { Folder = disk, SegmentSize = 300_000 });
            using RecordingSource source = new(new Paced { Size = 1_400, PerMillisecond = 4 }, recorder);
            Pump(source, 2_500);
            Assert.True(recorder.Status.IsHeldUp);
            Assert.Contains(_notices, notice => notice.Id == "held-up");
            long lost = recorder.Status.NotRecorded;
            Assert.True(lost > 0);
            File.Delete(ballast);
            DateTime patience = DateTime.UtcNow.AddSeconds(10);
            while (recorder.Status.IsHeldUp && DateTime.UtcNow < patience)
            {
                Pump(source, 50);
            }

            Pump(source, 30);
            recorder.Finish();
            Assert.Contains(_notices, notice => notice.Id == "goes-on");
            RecorderStatus status = recorder.Status;

            // Every number is there but those that were counted as lost, and where they are missing the recording says how many.
            using ICaptureSource read = CaptureFile.Open(disk);
            CapturedFile folder = CapturedFile.Read(read);
            Assert.Null(folder.Problem);
            long expected = 0;
            long told = 0;
            foreach (CapturedRecord record in folder.Records)
            {
                told += record.LostBefore;
                expected += record.LostBefore + (record.Kind == RecordKind.Packet ? 1 : 0);
                if (record.Kind == RecordKind.Packet)
                {
                    Assert.Equal(expected, BinaryPrimitives.ReadInt64LittleEndian(Convert.FromHexString(record.Data)));
                }
            }

            Assert.Equal(status.NotRecorded, told);
            Assert.Equal(status.Records, folder.Records.Count(record => record.Kind == RecordKind.Packet));
        }
        finally
        {
            Run("umount", disk);
        }
    }

    [Fact]
    public void A_folder_that_cannot_be_made_is_refused_before_anything_is_recorded()
    {
        string file = Path.Combine(_folder, "file");
        File.WriteAllText(file, "x");
        InputException refused = Assert.Throws<InputException>(() => new Recorder(Settings() with { Folder = Path.Combine(file, "in") }));
        Assert.Contains("cannot be recorded to, nothing is recorded", refused.Message, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void A_read_only_folder_is_refused_before_anything_is_recorded()
    {
        Skip.IfNot(OperatingSystem.IsLinux(), "mounts a tmpfs");
        string disk = Directory.CreateDirectory(Path.Combine(_folder, "disk")).FullName;
        Skip.IfNot(Run("mount", "-t", "tmpfs", "-o", "ro,size=1m", "tmpfs", disk), "needs the right to mount a tmpfs");
        try
        {
            InputException refused = Assert.Throws<InputException>(() => new Recorder(Settings() with { Folder = disk }));
            Assert.Contains("nothing is recorded", refused.Message, StringComparison.Ordinal);
        }
        finally
        {
            Run("umount", disk);
        }
    }

    private static bool Run(string tool, params string[] words)
    {
        try
        {
            using System.Diagnostics.Process process = System.Diagnostics.Process.Start(
                new System.Diagnostics.ProcessStartInfo(tool, words) { RedirectStandardError = true })!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }

    private static void Pump(RecordingSource source, int milliseconds)
    {
        DateTime end = DateTime.UtcNow.AddMilliseconds(milliseconds);
        while (DateTime.UtcNow < end)
        {
            Assert.NotEqual(ReadStatus.End, source.Read(out _));
        }
    }

    private static ScriptedSource Script(int records)
    {
        ScriptedSource source = new("s");
        for (int i = 0; i < records; i++)
        {
            source.Packet(Start + (i * 10_000_000L), new byte[60 + (i % 40)], i % 3);
        }

        return source;
    }

    private static CapturedRecord Shown(CapturedRecord record) => record with { InterfaceId = 0 };

    private static CaptureInterface Face(CaptureInterface face) => face with { Id = 0 };

    private RecorderSettings Settings() => new() { Folder = _folder, Clock = TimeProvider.System, Tell = _notices.Add, HandOver = TimeSpan.FromMilliseconds(20) };

    private static CapturedFile Record(ICaptureSource inner, RecorderSettings settings, params string[] marks)
    {
        using Recorder recorder = new(settings);
        using RecordingSource source = new(inner, recorder);
        Array.ForEach(marks, mark => recorder.Mark(mark));
        CapturedFile read = CapturedFile.Read(source);
        recorder.Finish();
        return read;
    }

    private string[] Segments() =>
        [.. Directory.GetFiles(_folder, "*.pcapng").Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];

    private CapturedFile Open()
    {
        using ICaptureSource source = CaptureFile.Open(_folder);
        return CapturedFile.Read(source);
    }

    private IEnumerable<long> Numbers() =>
        Open().Records.Select(record => BinaryPrimitives.ReadInt64LittleEndian(Convert.FromHexString(record.Data)));

    // Numbered records stamped with the time now, some each millisecond, and nothing in between.
    private sealed class Paced : ICaptureSource
    {
        private long _number;
        private long _begun = -1;

        public int Size { get; init; } = 64;

        public int PerMillisecond { get; init; } = 1;

        public string Name => "paced";

        public IReadOnlyList<CaptureInterface> Interfaces { get; } =
            [new CaptureInterface(0, "", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Kernel)];

        public InputProblem? Problem => null;

        public ReadStatus Read(out CaptureRecord record)
        {
            long now = (DateTime.UtcNow.Ticks - DateTime.UnixEpoch.Ticks) * 100;
            _begun = _begun < 0 ? now : _begun;
            if ((now - _begun) / 1_000_000 * PerMillisecond <= _number)
            {
                record = new CaptureRecord { Number = _number, Time = Timestamp.FromUnixNanoseconds(now), InterfaceId = 0 };
                Thread.Sleep(0);
                return ReadStatus.Idle;
            }

            byte[] data = new byte[Size];
            BinaryPrimitives.WriteInt64LittleEndian(data, ++_number);
            record = new CaptureRecord
            {
                Number = _number,
                Time = Timestamp.FromUnixNanoseconds(now),
                InterfaceId = 0,
                LinkType = LinkType.Ethernet,
                OriginalLength = Size,
                Data = data,
            };
            return ReadStatus.Record;
        }

        public void Dispose()
        {
        }
    }
}
