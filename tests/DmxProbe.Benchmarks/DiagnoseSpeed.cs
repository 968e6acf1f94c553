using System.Diagnostics;
using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Diagnosis;
using DmxProbe.Testing.Network;

namespace DmxProbe.Benchmarks;

/// <summary>
/// How long a diagnosis takes beside a plain survey of the same file: <c>diagnose-speed [--megabytes N] [--repeat N]</c>. 200
/// sACN universes at 44 Hz, a sheet of 6,000 units on them, four of them bad; both read the file once.
/// </summary>
internal static class DiagnoseSpeed
{
    private const int Universes = 200;
    private const int UnitsEach = 30;
    private const int Warm = 3;

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

            PatchSheet sheet = Sheet();
            double[] survey = new double[repeat], diagnosis = new double[repeat];
            int causes = 0;
            double judged = 0;
            for (int round = -Warm; round < repeat; round++)
            {
                double plain = Time(() => Survey(path));
                double whole = Time(() => causes = Diagnose(path, sheet, out judged));
                if (round >= 0)
                {
                    (survey[round], diagnosis[round]) = (plain, whole);
                }
            }

            double surveyed = survey.Order().ElementAt(repeat / 2), diagnosed = diagnosis.Order().ElementAt(repeat / 2);
            Console.WriteLine(Invariant($"{new FileInfo(path).Length / 1e6:N0} MB, {packets:N0} packets ({packets / 44.0 / Universes:0.0} s of {Universes} universes), {sheet.Units.Count:N0} units, one thread, processor time, median of {repeat}; {causes} causes judged"));
            Console.WriteLine(Invariant($"survey {surveyed * 1e3:0} ms, diagnose {diagnosed * 1e3:0} ms ({judged * 1e3:0} ms of it judging): diagnose runs at {surveyed / diagnosed:0.00} of the survey's speed"));
            return 0;
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static int Survey(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        return Surveyor.Run(source, CancellationToken.None).Universes.Count;
    }

    private static int Diagnose(string path, PatchSheet sheet, out double judged)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        DiagnosisCase it = DiagnosisReader.Read(source, new DiagnosisAsked
        {
            Sheet = sheet,
            Charts = FaultCharts.All,
            Bad = ["U7-1", "U7-2", "U7-3", "U7-4"],
            Said = "they do not follow",
            Map = captured => (captured.Where(id => id.Protocol == UniverseProtocol.Sacn).ToDictionary(id => id.Number, id => id), []),
        }, line: null, CancellationToken.None);
        long read = Stopwatch.GetTimestamp();
        DiagnosisResult result = Diagnoser.Run(it);
        judged = Stopwatch.GetElapsedTime(read).TotalSeconds;
        return result.Ranked.Count + result.Excluded.Count + result.CannotTell.Count;
    }

    private static PatchSheet Sheet() => new(
    [
        .. Enumerable.Range(1, Universes).SelectMany(universe => Enumerable.Range(0, UnitsEach).Select(n => new PatchUnit(
            FormattableString.Invariant($"U{universe}-{n + 1}"), n % 2 == 0 ? "wash" : "head", n % 2 == 0 ? "10 slot" : "14 slot", universe, (n * 16) + 1, "", FormattableString.Invariant($"chain {universe}"), "", [], "", 0) { ChainOrder = n + 1 })),
    ]);

    private static double Time(Action run)
    {
        // Time of this process on its processor: what else the machine does stays out of it.
        TimeSpan start = Environment.CpuUsage.TotalTime;
        run();
        return (Environment.CpuUsage.TotalTime - start).TotalSeconds;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
