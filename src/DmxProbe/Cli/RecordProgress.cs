using System.Collections.Concurrent;
using System.Globalization;

using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>
/// What a person sees while it records: on a terminal one line that is drawn over, with --plain a line every 10 s, else only
/// what there is to say. Goes to the error output, so that the answer stays alone. Writes on a thread of its own: a terminal
/// that was stopped must not stop the recording.
/// </summary>
internal sealed class RecordProgress : IDisposable
{
    private const int MostWaiting = 1_000;
    private static readonly TimeSpan DrawEvery = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LineEvery = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private readonly ProgramHost _host;
    private readonly bool _plain;
    private readonly string _folder;
    private readonly ConcurrentQueue<string> _sentences = new();
    private readonly AutoResetEvent _something = new(false);
    private readonly Thread _writer;
    private long _shown;
    private string _line = "";
    private volatile string _typed = "";
    private volatile Recorder? _recorder;
    private volatile bool _isEnding;

    /// <summary>Begins to show.</summary>
    public RecordProgress(ProgramHost host, bool plain, string folder)
    {
        _host = host;
        _plain = plain;
        _folder = folder;
        _shown = host.Clock.GetTimestamp();
        _writer = new Thread(Run) { IsBackground = true, Name = "progress" };
        _writer.Start();
    }

    private bool IsDrawn => _host.IsTerminal && !_plain;

    /// <summary>Shows how this recorder goes on.</summary>
    public void Watch(Recorder recorder) => _recorder = recorder;

    /// <summary>Shows what is being typed as a mark.</summary>
    public void Typed(string text)
    {
        _typed = text;
        _something.Set();
    }

    /// <summary>Says a sentence on a line of its own; returns at once.</summary>
    public void Say(string text)
    {
        if (_sentences.Count < MostWaiting)
        {
            _sentences.Enqueue(text);
            _something.Set();
        }
    }

    /// <summary>Says what is still to be said, and leaves the last line as it is.</summary>
    public void Dispose()
    {
        if (_isEnding)
        {
            return;
        }

        _isEnding = true;
        _something.Set();
        if (_writer.Join(Patience))
        {
            _something.Dispose();
        }
    }

    private void Run()
    {
        while (!_isEnding)
        {
            _something.WaitOne(DrawEvery);
            Step();
        }

        Step();
        if (IsDrawn && _line.Length > 0)
        {
            Write("\n");
        }
    }

    private void Step()
    {
        while (_sentences.TryDequeue(out string? text))
        {
            string sentence = Printable.Text(text);
            Write((IsDrawn ? "\r\u001b[K" : "") + "dmxprobe: " + Figures.Ended(sentence) + "\n");
        }

        if (_recorder is Recorder recorder && _host.Clock.GetElapsedTime(_shown) >= (_plain ? LineEvery : DrawEvery))
        {
            _shown = _host.Clock.GetTimestamp();
            _line = Line(recorder.Status);
            if (_plain)
            {
                Write(_line + "\n");
            }
        }

        if (IsDrawn)
        {
            Draw();
        }
    }

    private static string Line(RecorderStatus status)
    {
        string lost = status.LostBySource + status.NotRecorded == 0 ? "nothing lost" : Figures.Count(status.LostBySource + status.NotRecorded) + " lost";
        string free = status.Free is long octets ? string.Create(CultureInfo.InvariantCulture, $", {octets / 1e9:0.0} GB free") : "";
        string left = status.Left is Duration time ? ", " + (time.TotalSeconds >= 360_000
            ? "over 100 h left"
            : string.Create(CultureInfo.InvariantCulture, $"{time.TotalSeconds / 3_600:0.0} h left")) : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{status.RecordsPerSecond:N0} records/s, {status.OctetsPerSecond / 1e6:0.00} MB/s, {status.Records:N0} recorded, {lost}{free}{left}{(status.IsHeldUp ? ", HELD UP" : "")}");
    }

    private void Draw()
    {
        string text = Printable.Text(_typed is { Length: > 0 } typed ? "mark: " + typed : "recording to " + _folder + ": " + _line);
        Write("\r\u001b[K" + (text.Length >= _host.Width ? text[..(_host.Width - 1)] : text));
    }

    private void Write(string text)
    {
        try
        {
            _host.Error.Write(text);
            _host.Error.Flush();
        }
        catch (IOException)
        {
            // Nobody reads it any more: that must not end a recording.
        }
    }
}
