using System.Diagnostics;

using DmxProbe.Analysis.Video;

namespace DmxProbe.Cli.Video;

/// <summary>Reads what a video program says beside its output, on a thread of its own, or its pipe would fill and it would stop.</summary>
internal sealed class StderrReader
{
    private const int LongestComplaint = 160;
    private readonly Thread _thread;
    private readonly Process _process;
    private readonly PictureTimes? _times;
    private string _first = "";

    /// <summary>Starts reading.</summary>
    /// <param name="process">A process whose error output is redirected.</param>
    /// <param name="times">Takes the times of pictures; null = every line is a complaint.</param>
    public StderrReader(Process process, PictureTimes? times)
    {
        _process = process;
        _times = times;
        _thread = new Thread(Read) { IsBackground = true };
        _thread.Start();
    }

    /// <summary>Lines that complain.</summary>
    public int Complaints { get; private set; }

    /// <summary>Waits for the end of what it says.</summary>
    public void Wait() => _thread.Join();

    /// <summary>The first complaint in brackets; empty where there is none.</summary>
    public string Because() => _first.Length == 0 ? "" : $" (it says: {_first})";

    private void Read()
    {
        try
        {
            while (_process.StandardError.ReadLine() is string line)
            {
                if (_times?.Add(line) == true)
                {
                    continue;
                }

                if (_times is null || IsComplaint(line))
                {
                    Complaints++;
                    string text = line.StartsWith('[') && line.IndexOf("] ", StringComparison.Ordinal) is > 0 and int end ? line[(end + 2)..] : line;
                    _first = _first.Length > 0 ? _first : text.Length > LongestComplaint ? text[..LongestComplaint] : text;
                }
            }
        }
        catch (Exception closed) when (closed is IOException or ObjectDisposedException or InvalidOperationException)
        {
            // The process was ended.
        }
    }

    // At the level that reports the times, ffmpeg also tells what it is doing; only some lines say that something is wrong.
    private static bool IsComplaint(string line) =>
        line.Contains("rror", StringComparison.Ordinal) || line.Contains("nvalid", StringComparison.Ordinal)
        || line.Contains("corrupt", StringComparison.Ordinal) || line.Contains("missing picture", StringComparison.Ordinal)
        || line.Contains("truncat", StringComparison.Ordinal) || line.Contains("partial file", StringComparison.Ordinal);
}
