using System.Diagnostics;
using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Archive;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Benchmarks;

/// <summary>
/// How small and how fast recordings are packed: <c>pack-table [--seconds 120] [--universes 200]</c>. An easy show (cues and fades) and
/// a hard one (30 % of the slots change in every frame), both sent at 44 Hz, recorded as the program records. Each is packed by a
/// process of its own, whose memory is measured.
/// </summary>
internal static class PackTable
{
    public static int Run(string[] args)
    {
        if (args is ["--pack", string from, string to])
        {
            (long packed, long size) = Pack(from, to);
            Say($"{packed} {size} {Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds:0.00} {Process.GetCurrentProcess().PeakWorkingSet64}");
            return 0;
        }

        int seconds = RecordKill.Number(args, "--seconds", 120);
        int universes = RecordKill.Number(args, "--universes", 200);
        foreach ((string name, double effects) in new[] { ("easy", 0.0), ("hard", 0.3) })
        {
            string folder = Directory.CreateTempSubdirectory("dmxprobe-pack-").FullName;
            try
            {
                ShowPlan plan = new() { Universes = universes, Seconds = seconds, ConstantRate = true, Effects = effects };
                RecorderStatus status = RecordedShow.Record(new CuedShow(plan), Path.Combine(folder, "recording"), Duration.FromSeconds(600));
                Stopwatch watch = Stopwatch.StartNew();
                string[] told = Apart(Path.Combine(folder, "recording"), Path.Combine(folder, "archive"));
                double wall = watch.Elapsed.TotalSeconds;
                (long frames, long octets) = (Whole(told[0]), Whole(told[1]));
                double work = double.Parse(told[2], CultureInfo.InvariantCulture);
                Say($"{name}: {universes} universes, {seconds} s, {frames:N0} frames; recording {status.Octets / 1e6:N0} MB, packed {octets / 1e6:N0} MB: 1/{(double)status.Octets / octets:0.0}; packed in {wall:0.0} s ({seconds / wall:0.0} x real time; {work:0.0} s of processor, so {2 * seconds / work:0.0} x with two cores to itself); most memory {Whole(told[3]) / 1e6:0} MB");
            }
            finally
            {
                Directory.Delete(folder, recursive: true);
            }
        }

        return 0;
    }

    private static string[] Apart(string recording, string archive)
    {
        ProcessStartInfo start = new(Environment.ProcessPath!) { RedirectStandardOutput = true, ArgumentList = { "pack-table", "--pack", recording, archive } };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
        {
            start.ArgumentList.Insert(0, typeof(PackTable).Assembly.Location);
        }

        using Process child = Process.Start(start)!;
        string told = child.StandardOutput.ReadToEnd();
        child.WaitForExit();
        return child.ExitCode == 0 ? told.Trim().Split(' ') : throw new InvalidOperationException("packing failed: " + told);
    }

    private static long Whole(string number) => long.Parse(number, CultureInfo.InvariantCulture);

    private static (long Frames, long Octets) Pack(string recording, string archive)
    {
        List<string> paths = [];
        FileStream Create(ArchivePlace place)
        {
            string folder = Path.Combine([archive, .. place.Folders]);
            Directory.CreateDirectory(folder);
            string path = Path.Combine(folder, place.File);
            lock (paths)
            {
                paths.Add(path);
            }

            return new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite);
        }

        using ICaptureSource source = CaptureFile.Open(recording, LineFileOptions.None);
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        using ShowPacker packer = new(decoder, new ArchiveShow("show", "venue", "recording"), Create);
        Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, packer), CancellationToken.None);
        packer.Finish();
        return (packer.Frames, paths.Sum(path => new FileInfo(path).Length));
    }

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
