using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

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
        if (!host.IsTerminal || host.Clock.GetElapsedTime(_began) < Patience || (_drawn != 0 && host.Clock.GetElapsedTime(_drawn) < Every))
        {
            return;
        }

        _drawn = host.Clock.GetTimestamp();
        TimeSpan into = TimeSpan.FromTicks((now - _first.Value).Nanoseconds / 100);
        host.Error.Write(string.Create(CultureInfo.InvariantCulture, $"\r{what}: {into:hh\\:mm\\:ss} into the recording, {_frames:N0} frames\u001b[K"));
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
}
