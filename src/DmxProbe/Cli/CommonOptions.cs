using System.CommandLine;

using DmxProbe.Cli.Text;

namespace DmxProbe.Cli;

/// <summary>Options that every command takes.</summary>
internal sealed class CommonOptions
{
    /// <summary>JSON instead of text.</summary>
    public Option<bool> Json { get; } = new("--json") { Description = "Print JSON (docs/json.md) instead of text.", Recursive = true };

    /// <summary>Times in UTC.</summary>
    public Option<bool> Utc { get; } = new("--utc") { Description = "Print times in UTC instead of local time (JSON always has UTC).", Recursive = true };

    /// <summary>No colour.</summary>
    public Option<bool> NoColor { get; } = new("--no-color") { Description = "No colour; also by setting NO_COLOR. Colour repeats what the words say.", Recursive = true };

    /// <summary>Lists at full length.</summary>
    public Option<bool> All { get; } = new("--all") { Description = "Show long lists to their end.", Recursive = true };

    /// <summary>The options in the order in which --help shows them.</summary>
    public IReadOnlyList<Option> InOrder => [Json, Utc, NoColor, All];

    /// <summary>An empty page as these options want it.</summary>
    public TextPage Page(ParseResult parsed, ProgramHost host) =>
        new(host.Width, host.Color && !parsed.GetValue(NoColor));

    /// <summary>The zone in which times are to be printed.</summary>
    public TimeZoneInfo Zone(ParseResult parsed, ProgramHost host) =>
        parsed.GetValue(Utc) ? TimeZoneInfo.Utc : host.Zone;
}
