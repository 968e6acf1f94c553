using System.Diagnostics;
using System.Globalization;

namespace DmxProbe.Tests.Cli;

/// <summary>What a program that is told to end (SIGTERM, as a service manager or a shut-down sends it) leaves behind.</summary>
public sealed class TerminateTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-term-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [SkippableFact]
    public void An_export_that_is_terminated_leaves_no_half_file()
    {
        Skip.If(OperatingSystem.IsWindows(), "there is no SIGTERM on Windows");
        ProcessStartInfo start = new("dotnet") { RedirectStandardInput = true, RedirectStandardError = true, RedirectStandardOutput = true };
        foreach (string word in (string[])[Path.Combine(AppContext.BaseDirectory, "dmxprobe.dll"), "export", "-", "--what", "frames", "-o", Path.Combine(_folder, "x.csv")])
        {
            start.ArgumentList.Add(word);
        }

        using Process export = Process.Start(start)!;
        byte[] capture = File.ReadAllBytes("captures/harbour-hall/soundcheck.pcapng");
        export.StandardInput.BaseStream.Write(capture, 0, capture.Length / 2);
        export.StandardInput.BaseStream.Flush();
        Stopwatch clock = Stopwatch.StartNew();
        while (Directory.GetFiles(_folder, ".dmxprobe-*").Length == 0 && clock.Elapsed < TimeSpan.FromSeconds(20))
        {
            Thread.Sleep(5);
        }

        Assert.NotEmpty(Directory.GetFiles(_folder, ".dmxprobe-*"));
        using (Process kill = Process.Start("kill", ["-TERM", export.Id.ToString(CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        Thread.Sleep(300); // the signal is taken before its next record is
        export.StandardInput.Close();
        string said = export.StandardError.ReadToEnd();
        export.WaitForExit();
        Assert.Equal((143, "dmxprobe: stopped; nothing was written.\n"), (export.ExitCode, said));
        Assert.Empty(Directory.GetFiles(_folder));
    }
}
