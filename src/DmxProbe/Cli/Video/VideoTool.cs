using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;

using DmxProbe.Analysis.Video;

namespace DmxProbe.Cli.Video;

/// <summary>
/// Starts ffmpeg and ffprobe: arguments as a list, no shell; files only, no address that a play list inside a file may name.
/// </summary>
internal static class VideoTool
{
    /// <summary>The variable that names the folder of ffmpeg where it is not among the programs that are found by name.</summary>
    public const string FolderVariable = "DMXPROBE_FFMPEG";

    // Files that hold pictures themselves; play lists and scripts that refer to other files or addresses are not among them.
    private const string Containers = "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm,avi,mpegts,mpeg,mpegvideo,asf,flv,ogg,nut,mxf,dv,h264,hevc,m4v,gif,mp3,wav,aac,flac";

    /// <summary>What a file says of itself.</summary>
    /// <exception cref="UsageException">ffprobe is missing, or it cannot make anything of the file.</exception>
    public static VideoFacts Probe(string path, CancellationToken stop)
    {
        using Process probe = Start(
            "ffprobe",
            ["-v", "error", .. Guarded, "-show_entries", "stream=codec_type,width,height,avg_frame_rate,r_frame_rate,duration,color_transfer:stream_disposition=attached_pic:stream_side_data=rotation:stream_tags=rotate,creation_time:format=duration:format_tags=creation_time,com.apple.quicktime.creationdate", "-of", "json", Url(path)]);
        using CancellationTokenRegistration killing = stop.Register(() => End(probe));
        StderrReader said = new(probe, null);
        string json = Limited(probe.StandardOutput);
        End(probe, kill: false);
        said.Wait();
        stop.ThrowIfCancellationRequested();
        return probe.ExitCode == 0 && VideoFactsReader.Read(json) is VideoFacts facts
            ? facts
            : throw new UsageException($"{path}: ffmpeg finds no video in this file{said.Because()}; check that it is the whole file, as the camera made it");
    }

    /// <summary>Decodes all pictures at a size.</summary>
    /// <param name="path">The video.</param>
    /// <param name="width">Pixels across.</param>
    /// <param name="height">Pixels down.</param>
    /// <param name="times">Takes the time of each; null = not wanted.</param>
    /// <param name="picture">Takes the pixels of each (red, green, blue) and its number; false = enough.</param>
    /// <param name="stop">Ctrl-C.</param>
    /// <returns>What the decoder complained of; empty when nothing.</returns>
    public static string Decode(
        string path, int width, int height, PictureTimes? times, Func<ReadOnlySpan<byte>, int, bool> picture, CancellationToken stop)
    {
        string filter = string.Create(CultureInfo.InvariantCulture, $"scale={width}:{height}:flags=area,format=rgb24") + (times is null ? "" : ",showinfo");
        using Process decoder = Start(
            "ffmpeg",
            ["-nostdin", "-hide_banner", "-nostats", "-loglevel", times is null ? "error" : "info", .. Guarded, "-i", Url(path), "-map", "0:V:0", "-an", "-sn", "-dn", "-vf", filter, "-fps_mode", "passthrough", "-f", "rawvideo", "pipe:1"]);
        using CancellationTokenRegistration killing = stop.Register(() => End(decoder));
        StderrReader said = new(decoder, times);
        try
        {
            byte[] pixels = new byte[3 * width * height];
            Stream output = decoder.StandardOutput.BaseStream;
            bool enough = false;
            for (int number = 0; !enough && output.ReadAtLeast(pixels, pixels.Length, throwOnEndOfStream: false) == pixels.Length; number++)
            {
                enough = !picture(pixels, number);
            }

            End(decoder, kill: enough);
            said.Wait();
            stop.ThrowIfCancellationRequested();
            return decoder.ExitCode == 0 || enough ? said.Complaints > 0 ? said.Because() : "" : said.Because() is { Length: > 0 } because ? because : " (it ended early)";
        }
        finally
        {
            End(decoder);
        }
    }

    private static string[] Guarded => ["-protocol_whitelist", "file", "-format_whitelist", Containers];

    // With "file:" before it no name can be taken for an address or an option.
    private static string Url(string path) => "file:" + path;

    private static Process Start(string program, IEnumerable<string> arguments)
    {
        string folder = Environment.GetEnvironmentVariable(FolderVariable) ?? "";
        ProcessStartInfo start = new(folder.Length > 0 ? Path.Combine(folder, program) : program)
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            CreateNoWindow = true,
        };
        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        try
        {
            return Process.Start(start) ?? throw Missing(program);
        }
        catch (Exception failure) when (failure is Win32Exception or FileNotFoundException or DirectoryNotFoundException)
        {
            throw Missing(program);
        }
    }

    private static UsageException Missing(string program) =>
        new($"reading a video needs {program}, which is not installed here; install ffmpeg (Debian and Ubuntu: sudo apt install ffmpeg; macOS: brew install ffmpeg; Windows: winget install ffmpeg), or name its folder in {FolderVariable}");

    private static string Limited(StreamReader reader)
    {
        char[] text = new char[1 << 20];
        int length = reader.ReadBlock(text, 0, text.Length);
        return new string(text, 0, length);
    }

    private static void End(Process process, bool kill = true)
    {
        try
        {
            if (kill && !process.HasExited)
            {
                process.Kill(entireProcessTree: true);
            }

            process.WaitForExit();
        }
        catch (Exception gone) when (gone is InvalidOperationException or Win32Exception)
        {
            // It ended by itself in the meantime.
        }
    }
}
