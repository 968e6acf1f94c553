using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Text;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.CaptureFiles.Lines;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Lines;
using Microsoft.Win32.SafeHandles;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Speed of reading line recordings on one thread: <c>line-speed [--seconds N] [--repeat N]</c>. A full universe at 24 MHz,
/// line and inverse in two of eight bits, as raw samples, session zip and VCD; the yardsticks (reading memory, reading the
/// file, scanning for line ends) run in turn with ours. Printed are least and ratios.
/// </summary>
public static class LineSpeed
{
    private const long Rate = 24_000_000;
    private const int BlockSize = 512 * 1024;
    private const int Warm = 12;

    /// <summary>Runs all and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        int seconds = Arguments.Number(arguments, "--seconds", 10);
        int repeat = Arguments.Number(arguments, "--repeat", 5);
        string stem = Path.Combine(Path.GetTempPath(), $"dmxprobe-line-{Environment.ProcessId}");
        string[] paths = [stem + ".raw", stem + ".zip", stem + ".vcd"];
        try
        {
            byte[] second = BusyLine.Samples(Rate, 1);
            Write(paths, second, seconds);
            Measure(paths, second, seconds, repeat);
            return 0;
        }
        finally
        {
            foreach (string path in paths)
            {
                File.Delete(path);
            }
        }
    }

    private static void Write(string[] paths, byte[] second, int seconds)
    {
        using (FileStream raw = File.Create(paths[0]))
        {
            for (int i = 0; i < seconds; i++)
            {
                raw.Write(second);
            }
        }

        // Pieces of 4 MB, as such files come.
        using (FileStream zip = File.Create(paths[1]))
        {
            byte[][] pieces = [.. second.Chunk(4_000_000)];
            new SessionBytes { Metadata = SessionBytes.Describe(Rate, 2) }.Write(
                zip,
                Enumerable.Range(0, seconds * pieces.Length).Select(i => ($"logic-1-{i + 1}", (IEnumerable<byte[]>)[pieces[i % pieces.Length]])));
        }

        using StreamWriter vcd = new(paths[2], false, new UTF8Encoding(false), 1 << 16);
        vcd.Write("$timescale 1 ns $end\n$var wire 1 ! DMX+ $end\n$var wire 1 \" DMX- $end\n$enddefinitions $end\n#0 1! 0\"\n");
        byte before = second[0];
        for (long at = 1; at < (long)second.Length * seconds; at++)
        {
            byte now = second[at % second.Length];
            if (now != before)
            {
                vcd.Write(string.Create(CultureInfo.InvariantCulture, $"#{at * 1_000_000_000 / Rate} {now & 1}! {now >> 1}\"\n"));
                before = now;
            }
        }
    }

    private static void Measure(string[] paths, byte[] second, int seconds, int repeat)
    {
        byte[] memory = new byte[(long)second.Length * Math.Min(seconds, 8)];
        for (int at = 0; at < memory.Length; at += second.Length)
        {
            second.CopyTo(memory, at);
        }

        byte[] idle = new byte[memory.Length];
        Array.Fill(idle, (byte)1);
        LineFileOptions raw = new() { Rate = Rate };
        (string Name, double Seconds, long Octets, Func<long> Run)[] runs =
        [
            ("reading memory (yardstick)", memory.Length / (double)Rate, memory.Length, () => ReadMemory(memory)),
            ("edge finding in memory", memory.Length / (double)Rate, memory.Length, () => FindEdges(memory)),
            ("edge finding in memory where nothing changes", memory.Length / (double)Rate, memory.Length, () => FindEdges(idle)),
            ("reading the raw file (yardstick)", seconds, new FileInfo(paths[0]).Length, () => ReadFile(paths[0], false)),
            ("raw file to edge runs", seconds, new FileInfo(paths[0]).Length, () => Drain(paths[0], raw)),
            ("unpacking the session zip (yardstick)", seconds, new FileInfo(paths[0]).Length, () => Unpack(paths[1])),
            ("session zip to edge runs", seconds, new FileInfo(paths[0]).Length, () => Drain(paths[1], LineFileOptions.None)),
            ("counting line ends of the VCD file, vectors (yardstick)", seconds, new FileInfo(paths[2]).Length, () => ReadFile(paths[2], true)),
            ("finding each line end of the VCD file (yardstick)", seconds, new FileInfo(paths[2]).Length, () => FindLineEnds(paths[2])),
            ("VCD file to edge runs", seconds, new FileInfo(paths[2]).Length, () => Drain(paths[2], LineFileOptions.None)),
            ("raw file to packets and their times", seconds, new FileInfo(paths[0]).Length, () => Decode(paths[0], raw)),
            ("session zip to packets and their times", seconds, new FileInfo(paths[0]).Length, () => Decode(paths[1], LineFileOptions.None)),
            ("VCD file to packets and their times", seconds, new FileInfo(paths[2]).Length, () => Decode(paths[2], LineFileOptions.None)),
        ];
        double[][] taken = [.. runs.Select(_ => new double[repeat])];
        for (int round = -Warm; round < repeat; round++)
        {
            for (int i = 0; i < runs.Length; i++)
            {
                long start = Stopwatch.GetTimestamp();
                _ = runs[i].Run();
                if (round >= 0)
                {
                    taken[i][round] = Stopwatch.GetElapsedTime(start).TotalSeconds;
                }
            }
        }

        // The machine may be shared: what else ran makes a run longer, never shorter.
        double[] least = [.. taken.Select(each => each.Min())];
        double[] speeds = [.. runs.Select((run, i) => run.Octets / least[i])];
        Console.WriteLine(Invariant($"{seconds} s at 24 MHz, {Drain(paths[2], LineFileOptions.None):N0} edges in each format, vectors of {Width()} bit, one thread, page cache warm, least of {repeat}"));
        Console.WriteLine();
        Console.WriteLine("| run | ms | GB/s | x real time |");
        Console.WriteLine("|---|---|---|---|");
        for (int i = 0; i < runs.Length; i++)
        {
            Console.WriteLine(Invariant($"| {runs[i].Name} | {least[i] * 1e3:0.0} | {speeds[i] / 1e9:0.00} | {runs[i].Seconds / least[i]:0} |"));
        }

        Console.WriteLine();
        Console.WriteLine(Invariant($"edge finding / memory reading: {speeds[1] / speeds[0]:0.00}, where nothing changes {speeds[2] / speeds[0]:0.00} (goal 0.80)"));
        Console.WriteLine(Invariant($"raw file / file reading: {speeds[4] / speeds[3]:0.00}; session zip / unpacking: {speeds[6] / speeds[5]:0.00}"));
        Console.WriteLine(Invariant($"VCD / counting line ends: {speeds[9] / speeds[7]:0.00}; VCD / finding each line end: {speeds[9] / speeds[8]:0.00} (goal 0.50)"));
        Console.WriteLine(Invariant($"end to end: raw file {seconds / least[10]:0} x real time (goal 250), session zip {seconds / least[11]:0} x (goal 120), VCD {seconds / least[12]:0} x; {Decode(paths[0], raw):N0} packets"));
        Console.WriteLine(Invariant($"peak working set: {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:0} MB, of which {2 * memory.Length / 1e6:0} MB are recordings in memory"));
    }

    private static int Width() =>
        Vector512.IsHardwareAccelerated ? 512 : Vector256.IsHardwareAccelerated ? 256 : 128;

    private static long ReadMemory(byte[] memory)
    {
        ReadOnlySpan<Vector256<byte>> vectors = MemoryMarshal.Cast<byte, Vector256<byte>>(memory);
        Vector256<byte> a = default;
        Vector256<byte> b = default;
        Vector256<byte> c = default;
        Vector256<byte> d = default;
        for (int i = 0; i + 3 < vectors.Length; i += 4)
        {
            a |= vectors[i];
            b |= vectors[i + 1];
            c |= vectors[i + 2];
            d |= vectors[i + 3];
        }

        return (a | b | c | d)[0];
    }

    private static long FindEdges(byte[] memory)
    {
        const int Chunk = EdgeSlice.Room;
        EdgeSlice slice = new(8);
        SampleEdges edges = new(1, [0, 1, 2, 3, 4, 5, 6, 7], slice);
        for (int at = 1; at < memory.Length; at += Chunk)
        {
            if (slice.IsFull())
            {
                slice.Close(at - 1, last: false);
                slice.Open();
            }

            int end = Math.Min(memory.Length, at + Chunk);
            edges.Find(memory.AsSpan(at - 1, end - at + 1), at);
        }

        return slice.Start;
    }

    private static long Drain(string path, LineFileOptions options)
    {
        using ICaptureSource source = CaptureFile.Open(path, options);
        long edges = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            _ = EdgeRun.TryParse(record.Data, out EdgeRun run);
            edges += run.Steps.Length;
        }

        return source.Problem is null ? edges : throw new InvalidOperationException(source.Problem.ToString());
    }

    // Everything that timing does with a recording: channel, polarity and pair found, packets read, each judged.
    private static long Decode(string path, LineFileOptions options)
    {
        using ICaptureSource source = CaptureFile.Open(path, options);
        RecordDecoder decoder = new();
        LineTimingAnalyzer timing = new(against: null, clockPpm: 100);
        new Session(source, decoder, timing).Run(CancellationToken.None);
        long packets = decoder.Lines.Snapshot().Sum(channel => channel.Packets);
        return source.Problem is null && packets > 0 ? packets : throw new InvalidOperationException(source.Problem?.ToString() ?? "no packets");
    }

    private static long ReadFile(string path, bool countLineEnds)
    {
        using SafeFileHandle file = File.OpenHandle(path);
        byte[] block = new byte[BlockSize];
        long offset = 0;
        long lines = 0;
        int read;
        while ((read = RandomAccess.Read(file, block, offset)) > 0)
        {
            offset += read;
            lines += countLineEnds ? block.AsSpan(0, read).Count((byte)'\n') : 0;
        }

        return offset + lines;
    }

    private static long FindLineEnds(string path)
    {
        using SafeFileHandle file = File.OpenHandle(path);
        byte[] block = new byte[BlockSize];
        long offset = 0;
        long lines = 0;
        int read;
        while ((read = RandomAccess.Read(file, block, offset)) > 0)
        {
            offset += read;
            ReadOnlySpan<byte> left = block.AsSpan(0, read);
            for (int at; (at = left.IndexOf((byte)'\n')) >= 0; left = left[(at + 1)..])
            {
                lines++;
            }
        }

        return lines;
    }

    private static long Unpack(string path)
    {
        byte[] block = new byte[BlockSize];
        long octets = 0;
        using ZipArchive archive = ZipFile.OpenRead(path);
        foreach (ZipArchiveEntry entry in archive.Entries)
        {
            using Stream content = entry.Open();
            int read;
            while ((read = content.Read(block)) > 0)
            {
                octets += read;
            }
        }

        return octets;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
