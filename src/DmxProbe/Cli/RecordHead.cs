using System.CommandLine;

namespace DmxProbe.Cli;

/// <summary>Options about the head of a page to hand over: what no program can know.</summary>
internal sealed class RecordHead
{
    private readonly Option<string?> _title = new("--title") { HelpName = "TEXT", Description = "Title of the page." };
    private readonly Option<string?> _place = new("--place") { HelpName = "TEXT", Description = "Where it was measured." };
    private readonly Option<string?> _by = new("--by") { HelpName = "TEXT", Description = "Who measured." };
    private readonly Option<string[]> _connected = new("--connected") { HelpName = "TEXT", Description = "What was connected where; may be repeated.", AllowMultipleArgumentsPerToken = false };
    private readonly Option<string[]> _untested = new("--not-tested") { HelpName = "TEXT", Description = "What was not tested, beside what the program knows itself; may be repeated.", AllowMultipleArgumentsPerToken = false };

    /// <summary>The options, in the order in which --help shows them.</summary>
    public IReadOnlyList<Option> InOrder => [_title, _place, _by, _connected, _untested];

    /// <summary>Those that were given, by name.</summary>
    public IReadOnlyList<string> Given(ParseResult parsed) => [.. InOrder.Where(option => parsed.GetResult(option) is { Implicit: false }).Select(option => option.Name)];

    /// <summary>Title as given.</summary>
    public string? Title(ParseResult parsed) => parsed.GetValue(_title);

    /// <summary>Place as given; empty without.</summary>
    public string Place(ParseResult parsed) => parsed.GetValue(_place) ?? "";

    /// <summary>Who, as given; empty without.</summary>
    public string By(ParseResult parsed) => parsed.GetValue(_by) ?? "";

    /// <summary>What was connected where, as given.</summary>
    public IReadOnlyList<string> Connected(ParseResult parsed) => parsed.GetValue(_connected) ?? [];

    /// <summary>What was not tested, as given.</summary>
    public IReadOnlyList<string> NotTested(ParseResult parsed) => parsed.GetValue(_untested) ?? [];
}
