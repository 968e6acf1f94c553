using System.Diagnostics;
using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Speed of the capture path: <c>survey-speed [--megabytes N] [--repeat N]</c>. A 200-universe sACN capture is generated; the
/// yardsticks (reading the file, a bare libpcap counting loop, SharpPcap with PacketDotNet) run in turn with ours over the same
/// warm file. Printed are time and processor time, median and best, and ratios: times alone mean nothing on another machine.
/// </summary>
public static class SurveySpeed
{
    private const int Universes = 200;
    private const int Warm = 6;

    /// <summary>Runs all and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        int megabytes = Arguments.Number(arguments, "--megabytes", 500);
        int repeat = Arguments.Number(arguments, "--repeat", 5);
        string path = Path.Combine(Path.GetTempPath(), $"dmxprobe-bench-{Environment.ProcessId}.pcap");
        try
        {
            long packets;
            using (FileStream file = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read, 1 << 20))
            {
                packets = BenchmarkCapture.Write(file, Universes, megabytes);
            }

            Measure(path, packets, repeat);
            return 0;
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static void Measure(string path, long packets, int repeat)
    {
        (string Name, Func<string, long> Run)[] runs =
        [
            ("reading the file in 256 KiB blocks", ReadBlocks.Run),
            ("bare libpcap counting loop", PcapLoop.Count),
            ("SharpPcap + PacketDotNet", SharpPcapLoop.Count),
            ("(a) decode, levels, sequence", Levels),
            ("(b) whole survey", Survey),
        ];
        double[][] wall = [.. runs.Select(_ => new double[repeat])];
        double[][] processor = [.. runs.Select(_ => new double[repeat])];
        bool[] absent = new bool[runs.Length];

        // The first rounds compile the code, and compile it again with what was learnt; they are not counted.
        for (int round = -Warm; round < repeat; round++)
        {
            for (int i = 0; i < runs.Length; i++)
            {
                if (absent[i])
                {
                    continue;
                }

                try
                {
                    long start = Stopwatch.GetTimestamp();
                    TimeSpan used = Environment.CpuUsage.TotalTime;
                    long counted = runs[i].Run(path);
                    if (i > 0 && counted != packets)
                    {
                        throw new InvalidOperationException($"{runs[i].Name} counted {counted} packets of {packets}");
                    }

                    if (round >= 0)
                    {
                        wall[i][round] = Stopwatch.GetElapsedTime(start).TotalSeconds;
                        processor[i][round] = (Environment.CpuUsage.TotalTime - used).TotalSeconds;
                    }
                }
                catch (Exception missing) when (missing is DllNotFoundException or TypeInitializationException or PlatformNotSupportedException)
                {
                    absent[i] = true;
                }
            }
        }

        Console.WriteLine(Invariant($"{new FileInfo(path).Length / 1e6:N0} MB, {packets:N0} packets, {Universes} universes, page cache warm, {repeat} rounds in turn"));
        string[] names = [.. runs.Select((run, i) => absent[i] ? run.Name + " (libpcap is not installed)" : run.Name)];
        Print("processor time (of all threads), median", names, [.. processor.Select(Median)], packets);
        Print("processor time (of all threads), best", names, [.. processor.Select(each => each.Min())], packets);
        Print("time, median", names, [.. wall.Select(Median)], packets);
        Print("time, best", names, [.. wall.Select(each => each.Min())], packets);
        Console.WriteLine();
        Console.WriteLine(Invariant($"peak working set of this process: {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:0} MB (yardsticks included)"));
    }

    private static double Median(double[] seconds) => seconds.Order().ElementAt(seconds.Length / 2);

    // What is absent took no time at all.
    private static void Print(string what, string[] names, double[] seconds, long packets)
    {
        Console.WriteLine();
        Console.WriteLine($"| {what} | ns a packet | M packets/s | x libpcap | x SharpPcap + PacketDotNet | share of the reading speed |");
        Console.WriteLine("|---|---|---|---|---|---|");
        for (int i = 0; i < names.Length; i++)
        {
            Console.WriteLine(seconds[i] == 0
                ? $"| {names[i]} | | | | | |"
                : Invariant($"| {names[i]} | {seconds[i] / packets * 1e9:0} | {packets / seconds[i] / 1e6:0.0} | {Ratio(1, i)} | {Ratio(2, i)} | {seconds[0] / seconds[i]:0.00} |"));
        }

        string Ratio(int yardstick, int run) => seconds[yardstick] == 0 ? "-" : Invariant($"{seconds[yardstick] / seconds[run]:0.00}");
    }

    private static long Levels(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        RecordDecoder decoder = new();
        new Session(source, decoder, new FanOut(new LevelAnalyzer(), new SequenceAnalyzer())).Run(CancellationToken.None);
        return decoder.CountsOf(0).Records;
    }

    private static long Survey(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        return Surveyor.Run(source, CancellationToken.None).Inputs[0].Records;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
