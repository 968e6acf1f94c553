using System.CommandLine;

namespace DmxProbe.Cli;

/// <summary>Turns what the command-line parser objects to into one sentence of ours.</summary>
internal static class ParseSentence
{
    /// <summary>The sentence for a parse result with errors, or one that names no command.</summary>
    public static string For(ParseResult parsed)
    {
        Command command = parsed.CommandResult.Command;
        string path = Path(command);
        string help = $"see '{path} --help'";
        if (parsed.UnmatchedTokens.Count > 0)
        {
            string word = parsed.UnmatchedTokens[0];
            if (word.StartsWith('-'))
            {
                return NoSuchOption(path, word);
            }

            return command.Subcommands.Count > 0
                ? $"there is no command '{word}' after '{path}': it knows {Subcommands(command)}; {help}"
                : $"{path} takes no further word '{word}'; {help}";
        }

        if (command.Subcommands.Count > 0 && command.Arguments.Count == 0)
        {
            return $"'{path}' needs one of its commands: {Subcommands(command)}; {help}";
        }

        foreach (Argument argument in command.Arguments)
        {
            if (argument.Arity.MinimumNumberOfValues > 0 && (parsed.GetResult(argument)?.Tokens.Count ?? 0) == 0)
            {
                return $"{path} needs {argument.Name}: {Hint(argument)}; {help}";
            }
        }

        foreach (Option option in command.Options)
        {
            if (option.Required && parsed.GetResult(option) is null or { Implicit: true })
            {
                return $"{path} needs {option.Name} {option.HelpName}: {Hint(option)}; {help}";
            }
        }

        return $"{parsed.Errors[0].Message.ReplaceLineEndings(" ").TrimEnd('.')}; {help}";
    }

    /// <summary>
    /// The sentence for a word that looks like an option and was taken for a file, or null: a mistyped --jsn must not
    /// end as "no such file". After -- every word is a file.
    /// </summary>
    public static string? UnknownOption(ParseResult parsed, IReadOnlyList<string> args)
    {
        string? word = args.Contains("--")
            ? null
            : parsed.CommandResult.Tokens.Concat(parsed.CommandResult.Children.SelectMany(child => child.Tokens))
                .Select(token => token.Value)
                .FirstOrDefault(value => value.Length > 1 && value[0] == '-');
        return word is null ? null : NoSuchOption(Path(parsed.CommandResult.Command), word);
    }

    /// <summary>The words that lead to a command: <c>dmxprobe patch check</c>.</summary>
    public static string Path(Command command)
    {
        string? parent = command.Parents.OfType<Command>().Select(Path).FirstOrDefault();
        return parent is null ? "dmxprobe" : parent + " " + command.Name;
    }

    // The description of a word, as it reads inside a sentence.
    private static string Hint(Symbol symbol) =>
        symbol.Description is { Length: > 0 } text ? char.ToLowerInvariant(text[0]) + text[1..].TrimEnd('.') : "a value";

    private static string NoSuchOption(string path, string word) =>
        $"{path} has no option '{word}'; see '{path} --help' (a file of that name is given as ./{word})";

    private static string Subcommands(Command command) =>
        string.Join(", ", command.Subcommands.Where(sub => !sub.Hidden).Select(sub => sub.Name));
}
