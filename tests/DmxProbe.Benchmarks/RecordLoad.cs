using System.Buffers.Binary;
using System.Diagnostics;
using System.Globalization;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Records 30 minutes of 200 universes at 44 Hz as fast as it goes, then reads all back and compares record by record:
/// <c>record-load [--minutes 30] [--universes 200] [--folder DIR]</c>. Needs about 11 GB for the whole.
/// </summary>
internal static class RecordLoad
{
    private const int Length = 680;

    public static int Run(string[] args)
    {
        int minutes = RecordKill.Number(args, "--minutes", 30);
        int universes = RecordKill.Number(args, "--universes", 200);
        int at = Array.IndexOf(args, "--folder");
        string folder = Directory.CreateDirectory(at >= 0 ? args[at + 1] : Path.Combine(Path.GetTempPath(), "dmxprobe-load-" + Guid.NewGuid().ToString("N"))).FullName;
        long total = (long)minutes * 60 * 44 * universes;
        try
        {
            return Measure(folder, total, universes);
        }
        finally
        {
            if (at < 0)
            {
                Directory.Delete(folder, recursive: true);
            }
        }
    }

    private static int Measure(string folder, long total, int universes)
    {
        Stopwatch watch = Stopwatch.StartNew();
        long most = 0;
        long early = 0;
        RecorderStatus status;
        using (Recorder recorder = new(new RecorderSettings { Folder = folder, Clock = TimeProvider.System, SegmentTime = Duration.FromSeconds(120) }))
        {
            using RecordingSource source = new(new Wave(total, universes), recorder);
            for (long i = 0; source.Read(out _) == ReadStatus.Record; i++)
            {
                if (i % 200_000 == 0)
                {
                    most = Math.Max(most, Resident());
                    early = i <= total / 10 ? most : early;
                }
            }

            recorder.Finish();
            status = recorder.Status;
        }

        double seconds = watch.Elapsed.TotalSeconds;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"recorded {status.Records:N0} records, {status.Octets / 1e9:0.00} GB, {status.Segments} segments in {seconds:0.0} s ({status.Records / seconds:N0} records/s); resident memory after a tenth {early / 1e6:0} MB, most {most / 1e6:0} MB; longest at risk {status.LongestAtRisk.TotalMilliseconds:0} ms; not recorded {status.NotRecorded}"));
        watch.Restart();
        long wrong = 0;
        long read = 0;
        using (ICaptureSource written = RecordedFolder.Open(folder))
        {
            using Wave sent = new(total, universes);
            while (written.Read(out CaptureRecord got) == ReadStatus.Record)
            {
                read++;
                bool same = sent.Read(out CaptureRecord expected) == ReadStatus.Record
                    && got.Time == expected.Time
                    && got.Number == expected.Number
                    && got.OriginalLength == expected.OriginalLength
                    && got.Data.SequenceEqual(expected.Data);
                wrong += same ? 0 : 1;
            }

            wrong += written.Problem is null ? 0 : 1;
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"read back {read:N0} of {total:N0} records in {watch.Elapsed.TotalSeconds:0.0} s; {wrong} differ"));
        return wrong == 0 && read == total ? 0 : 1;
    }

    private static long Resident()
    {
        using Process self = Process.GetCurrentProcess();
        return self.WorkingSet64;
    }

    // The packets of a show whose levels move: the same calls give the same octets.
    private sealed class Wave(long total, int universes) : ICaptureSource
    {
        private readonly byte[] _packet = new byte[Length];
        private long _number;

        public string Name => "wave";

        public IReadOnlyList<CaptureInterface> Interfaces { get; } =
            [new CaptureInterface(0, "wave", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1), StampedBy.Kernel)];

        public InputProblem? Problem => null;

        public ReadStatus Read(out CaptureRecord record)
        {
            record = default;
            if (_number == total)
            {
                return ReadStatus.End;
            }

            (long frame, long universe) = Math.DivRem(_number++, universes);
            BinaryPrimitives.WriteInt64LittleEndian(_packet, _number);
            _packet.AsSpan(16).Fill(unchecked((byte)(frame + universe)));
            record = new CaptureRecord
            {
                Number = _number,
                Time = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000 + (frame * 1_000_000_000 / 44) + (universe * 7_000)),
                InterfaceId = 0,
                LinkType = LinkType.Ethernet,
                OriginalLength = Length,
                Data = _packet,
            };
            return ReadStatus.Record;
        }

        public void Dispose()
        {
        }
    }
}
