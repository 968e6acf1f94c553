using System.Globalization;

using DmxProbe.Capture.Recording;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>
/// What a person sees while it records: on a terminal one line that is drawn over, with --plain a line every 10 s, else only
/// what there is to say. Goes to the error output, so that the answer stays alone. Any thread.
/// </summary>
internal sealed class RecordProgress(ProgramHost host, bool plain, string folder)
{
    private static readonly TimeSpan DrawEvery = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LineEvery = TimeSpan.FromSeconds(10);

    private readonly Lock _gate = new();
    private long _shown = host.Clock.GetTimestamp();
    private string _line = "";
    private string _typed = "";

    private bool IsDrawn => host.IsTerminal && !plain;

    /// <summary>Shows how it goes, if it is time to.</summary>
    public void Show(Recorder recorder)
    {
        if ((!IsDrawn && !plain) || host.Clock.GetElapsedTime(_shown) < (plain ? LineEvery : DrawEvery))
        {
            return;
        }

        _shown = host.Clock.GetTimestamp();
        string line = Line(recorder.Status);
        lock (_gate)
        {
            _line = line;
            if (plain)
            {
                Write(line + "\n");
            }
            else
            {
                Draw();
            }
        }
    }

    /// <summary>Shows what is being typed as a mark.</summary>
    public void Typed(string text)
    {
        lock (_gate)
        {
            _typed = text;
            if (IsDrawn)
            {
                Draw();
            }
        }
    }

    /// <summary>Says a sentence on a line of its own.</summary>
    public void Say(string text)
    {
        lock (_gate)
        {
            string sentence = Printable.Text(text);
            Write((IsDrawn ? "\r\u001b[K" : "") + "dmxprobe: " + sentence + (sentence.EndsWith('.') ? "\n" : ".\n"));
            if (IsDrawn)
            {
                Draw();
            }
        }
    }

    /// <summary>Leaves the last line as it is.</summary>
    public void End()
    {
        lock (_gate)
        {
            if (IsDrawn && _line.Length > 0)
            {
                Write("\n");
            }
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
        string text = Printable.Text(_typed.Length > 0 ? "mark: " + _typed : "recording to " + folder + ": " + _line);
        Write("\r\u001b[K" + (text.Length >= host.Width ? text[..(host.Width - 1)] : text));
    }

    private void Write(string text)
    {
        try
        {
            host.Error.Write(text);
            host.Error.Flush();
        }
        catch (IOException)
        {
            // Nobody reads it any more: that must not end a recording.
        }
    }
}
