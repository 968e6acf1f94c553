using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>How a command is to listen to its live inputs.</summary>
/// <param name="Settings">How sources listen.</param>
/// <param name="Length">How long; null: until Ctrl-C.</param>
/// <param name="Host">The process.</param>
internal sealed record LiveAsked(LiveSettings Settings, Duration? Length, ProgramHost Host)
{
    /// <summary>Options given that say how <c>net</c> listens, by name.</summary>
    public IReadOnlyList<string> NetOnly { get; init; } = [];
}
