using System.Diagnostics;
using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Benchmarks;

/// <summary>
/// How long it takes to ask a long recording: <c>seek-table [--minutes 240] [--universes 200] [--asks 1000] [--folder DIR]
/// [--every-frame]</c>. Makes a cued show (about 10 GB for the whole) and keeps it only where a folder is given; a folder that
/// holds it already is asked again.
/// </summary>
internal static class SeekTable
{
    public static int Run(string[] args)
    {
        int minutes = RecordKill.Number(args, "--minutes", 240);
        int universes = RecordKill.Number(args, "--universes", 200);
        int asks = RecordKill.Number(args, "--asks", 1_000);
        int at = Array.IndexOf(args, "--folder");
        string folder = Directory.CreateDirectory(at >= 0 ? args[at + 1] : Path.Combine(Path.GetTempPath(), "dmxprobe-seek-" + Guid.NewGuid().ToString("N"))).FullName;
        ShowPlan plan = new() { Universes = universes, Seconds = minutes * 60, ConstantRate = args.Contains("--every-frame"), Effects = args.Contains("--every-frame") ? 0.3 : 0 };
        try
        {
            if (!Directory.EnumerateFiles(folder, "*.pcapng").Any())
            {
                Stopwatch recording = Stopwatch.StartNew();
                RecorderStatus status = RecordedShow.Record(new CuedShow(plan), folder, Duration.FromSeconds(600));
                Say($"recorded {status.Records:N0} records, {status.Octets / 1e9:0.00} GB, {status.Segments} segments in {recording.Elapsed.TotalSeconds:0} s; {status.Records / plan.Seconds / universes:0.0} frames/s per universe");
            }

            Measure(folder, plan, asks);
            return 0;
        }
        finally
        {
            if (at < 0)
            {
                Directory.Delete(folder, recursive: true);
            }
        }
    }

    private static void Measure(string folder, ShowPlan plan, int asks)
    {
        Stopwatch watch = Stopwatch.StartNew();
        using (ReviewIndex made = ReviewIndex.Open(RecordedParts.Open(folder)))
        {
            Say($"opened in {watch.Elapsed.TotalSeconds:0.0} s, of which {made.PartsMade} review files were made; {made.Streams.Sum(stream => stream.Frames):N0} frames; review files {Directory.EnumerateFiles(folder, "*.levels").Sum(file => new FileInfo(file).Length) / 1e9:0.00} GB; most memory {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:0} MB");
        }

        watch.Restart();
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(folder));
        Say($"opened again in {watch.Elapsed.TotalMilliseconds:0} ms");
        SeededRandom random = new(1);
        UniverseId Universe() => new(UniverseProtocol.Sacn, (int)random.Next(1, plan.Universes + 1));
        Timestamp Moment() => plan.Start + Duration.FromSeconds(random.NextDouble() * plan.Seconds);
        int Slot() => (int)random.Next(1, 513);
        long sum = 0;
        Time("all slots of a universe at a time", asks, () => sum += index.LevelsAt(Universe(), Moment()).Count);
        Time("one slot at a time, and since when", asks, () => sum += index.SlotAt(Universe(), Slot(), Moment()).Count);
        foreach ((string span, double seconds) in new[] { ("10 s", 10.0), ("10 min", 600), ("1 h", 3600), ("the whole", plan.Seconds) })
        {
            Time($"history of a slot over {span}", asks, () =>
            {
                Timestamp from = seconds >= plan.Seconds ? plan.Start : Moment();
                sum += index.History(Universe(), Slot(), from, from + Duration.FromSeconds(seconds)).Count;
            });
        }

        Time("history of a slot over any span", asks, () =>
        {
            Timestamp one = Moment();
            Timestamp other = Moment();
            (Timestamp from, Timestamp to) = one < other ? (one, other) : (other, one);
            sum += index.History(Universe(), Slot(), from, to).Count;
        });
        Say($"(answers: {sum:N0})");
    }

    private static void Time(string what, int asks, Action ask)
    {
        // Code compiled, page cache warm.
        for (int i = 0; i < asks / 10; i++)
        {
            ask();
        }

        double[] times = new double[asks];
        for (int i = 0; i < asks; i++)
        {
            long start = Stopwatch.GetTimestamp();
            ask();
            times[i] = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        }

        Array.Sort(times);
        Say($"{what,-40} median {times[asks / 2],7:0.00} ms   p95 {times[asks * 95 / 100],7:0.00} ms   most {times[^1],7:0.00} ms");
    }

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
