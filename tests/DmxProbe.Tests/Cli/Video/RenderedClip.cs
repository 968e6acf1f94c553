using System.ComponentModel;
using System.Diagnostics;

namespace DmxProbe.Tests.Cli.Video;

/// <summary>Makes videos with the real ffmpeg where it is installed.</summary>
internal static class RenderedClip
{
    /// <summary>Why a test skips.</summary>
    public const string NotInstalled = "ffmpeg is not installed here";

    /// <summary>Whether ffmpeg and ffprobe can be started.</summary>
    public static bool HasFfmpeg { get; } = CanStart("ffmpeg") && CanStart("ffprobe");

    /// <summary>Runs ffmpeg; <paramref name="feed"/> writes its standard input.</summary>
    public static void Ffmpeg(Action<Stream>? feed, params string[] arguments)
    {
        ProcessStartInfo start = new("ffmpeg") { RedirectStandardInput = true, UseShellExecute = false };
        foreach (string argument in (string[])["-hide_banner", "-loglevel", "error", "-y", .. arguments])
        {
            start.ArgumentList.Add(argument);
        }

        using Process process = Process.Start(start)!;
        feed?.Invoke(process.StandardInput.BaseStream);
        process.StandardInput.Close();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }

    private static bool CanStart(string program)
    {
        try
        {
            using Process? process = Process.Start(new ProcessStartInfo(program, "-version") { RedirectStandardOutput = true, UseShellExecute = false });
            process?.StandardOutput.ReadToEnd();
            process?.WaitForExit();
            return process?.ExitCode == 0;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }
}
