using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Universes;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Testing.Network;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Where the survey's time goes: <c>survey-parts [--megabytes N] [--repeat N] [--part TEXT]</c>. The same file through ever more of the path,
/// in turn; what a line has more than the one it builds on is that part's cost. Processor time in ns a record.
/// </summary>
internal static class SurveyParts
{
    private const int Universes = 200;
    private const int Warm = 5;

    private static readonly (string Name, int Base, Func<string, long> Run)[] All =
    [
        ("bare libpcap counting loop", -1, PcapLoop.Count),
        ("reading the file in blocks", -1, ReadBlocks.Run),
        ("records of the file", 1, Records),
        ("and their packet views", 2, Views),
        ("decoder: streams, rules, frames", 2, path => Decode(path, new Nothing())),
        ("+ levels", 4, path => Decode(path, new LevelAnalyzer())),
        ("+ sequence", 4, path => Decode(path, new SequenceAnalyzer())),
        ("+ arrivals", 4, path => Decode(path, new ArrivalAnalyzer())),
        ("+ presence", 4, path => Decode(path, new PresenceAnalyzer())),
        ("+ who wins", 4, path => Decode(path, new ArbitrationAnalyzer())),
        ("+ network", 4, path => Decode(path, new NetworkAnalyzer())),
        ("whole survey", 4, path => Decode(path, new SurveyAnalyzer())),
    ];

    public static int Run(string[] arguments)
    {
        int megabytes = Arguments.Number(arguments, "--megabytes", 500);
        int repeat = Arguments.Number(arguments, "--repeat", 9);
        (string Name, int Base, Func<string, long> Run)[] parts = All;
        if (Arguments.Word(arguments, "--part") is string named)
        {
            // One alone, for a profiler; nothing to compare it with.
            parts = [.. All.Where(part => part.Name.Contains(named, StringComparison.Ordinal)).Select(part => part with { Base = -1 })];
        }

        string path = Path.Combine(Path.GetTempPath(), $"dmxprobe-bench-{Environment.ProcessId}.pcap");
        try
        {
            long packets;
            using (FileStream file = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read, 1 << 20))
            {
                packets = BenchmarkCapture.Write(file, Universes, megabytes);
            }

            Print(parts, Measure(parts, path, repeat), packets);
            return 0;
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static double[][] Measure((string Name, int Base, Func<string, long> Run)[] parts, string path, int repeat)
    {
        double[][] seconds = [.. parts.Select(_ => new double[repeat])];
        for (int round = -Warm; round < repeat; round++)
        {
            for (int i = 0; i < parts.Length; i++)
            {
                TimeSpan start = Environment.CpuUsage.TotalTime;
                _ = parts[i].Run(path);
                if (round >= 0)
                {
                    seconds[i][round] = (Environment.CpuUsage.TotalTime - start).TotalSeconds;
                }
            }
        }

        return seconds;
    }

    private static void Print((string Name, int Base, Func<string, long> Run)[] parts, double[][] seconds, long packets)
    {
        double[] best = [.. seconds.Select(each => each.Min() / packets * 1e9)];
        double[] median = [.. seconds.Select(each => each.Order().ElementAt(each.Length / 2) / packets * 1e9)];
        Console.WriteLine(Invariant($"{packets:N0} packets of {Universes} universes, page cache warm, processor time in ns a record, of {seconds[0].Length}"));
        Console.WriteLine();
        Console.WriteLine("| path | best | more than | median | more than | x libpcap (best) | x libpcap (median) |");
        Console.WriteLine("|---|---|---|---|---|---|---|");
        for (int i = 0; i < parts.Length; i++)
        {
            int on = parts[i].Base;
            Console.WriteLine(Invariant($"| {parts[i].Name} | {best[i]:0.0} | {(on < 0 ? "" : Invariant($"+{best[i] - best[on]:0.0}"))} | {median[i]:0.0} | {(on < 0 ? "" : Invariant($"+{median[i] - median[on]:0.0}"))} | {best[0] / best[i]:0.00} | {median[0] / median[i]:0.00} |"));
        }
    }

    private static long Records(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        long octets = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            octets += record.Data.Length;
        }

        return octets;
    }

    private static long Views(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        long sum = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            if (NetworkDatagram.TryParse(record.LinkType, record.Data, out NetworkDatagram datagram, out _)
                && SacnDataPacket.TryParse(datagram.Payload, out SacnDataPacket packet, out _))
            {
                sum += packet.Universe + packet.Slots.Length;
            }
        }

        return sum;
    }

    private static long Decode(string path, IAnalyzer analyzer)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        RecordDecoder decoder = new();
        new Session(source, decoder, analyzer).Run(CancellationToken.None);
        return decoder.CountsOf(0).Records;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private sealed class Nothing : IAnalyzer
    {
        public void OnFrame(in DmxFrame frame)
        {
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }

        public void OnTime(Timestamp now)
        {
        }
    }
}
