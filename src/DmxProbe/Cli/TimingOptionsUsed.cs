using System.CommandLine;
using System.CommandLine.Parsing;

namespace DmxProbe.Cli;

/// <summary>Which options stood how in a run, for a page that says so.</summary>
internal static class TimingOptionsUsed
{
    /// <summary>Each option, its value, and whether a person gave it.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="options">The options that bear on the figures.</param>
    public static IReadOnlyList<(string Name, string Value, bool IsGiven)> Of(ParseResult parsed, IReadOnlyList<Option> options) =>
    [
        .. options.Select(option =>
        {
            bool isGiven = parsed.GetResult(option) is { Implicit: false };
            string value = parsed.GetResult(option) is OptionResult result && isGiven ? string.Join(", ", result.Tokens.Select(token => token.Value))
                : option.HasDefaultValue && option.GetDefaultValue() is object usual ? FormattableString.Invariant($"{usual}")
                : "none";
            return (option.Name, value, isGiven);
        }),
    ];
}
