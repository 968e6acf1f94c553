using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli;

/// <summary>
/// A line on the terminal that says how far a long reading has come, from the second second on, twice a second; nothing where the
/// error output is no terminal.
/// </summary>
/// <param name="host">The process.</param>
/// <param name="what">What is being done.</param>
internal sealed class WaitLine(ProgramHost host, string what) : IAnalyzer, IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(500);
    private readonly long _began = host.Clock.GetTimestamp();
    private long _drawn;
    private long _frames;
    private Timestamp? _first;
    private Timestamp _now;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame) => _frames++;

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        _first ??= now;
        _now = now;
        if (host.IsTerminal)
        {
            Tell(Position);
        }
    }

    /// <summary>Says how far it is, where it takes long and a person looks.</summary>
    /// <param name="how">How far; asked only where it is told.</param>
    public void Tell(Func<string> how)
    {
        if (!host.IsTerminal || host.Clock.GetElapsedTime(_began) < Patience || (_drawn != 0 && host.Clock.GetElapsedTime(_drawn) < Every))
        {
            return;
        }

        _drawn = host.Clock.GetTimestamp();
        host.Error.Write($"\r{what}: {Printable.Text(how())}\u001b[K");
        host.Error.Flush();
    }

    /// <summary>Takes the line away.</summary>
    public void Dispose()
    {
        if (_drawn != 0)
        {
            host.Error.Write("\r\u001b[K");
            host.Error.Flush();
        }
    }

    private string Position()
    {
        TimeSpan into = TimeSpan.FromTicks(Figures.Between(_first ?? _now, _now).Nanoseconds / 100);
        return string.Create(CultureInfo.InvariantCulture, $"{into:hh\\:mm\\:ss} into the recording, {_frames:N0} frames");
    }
}
