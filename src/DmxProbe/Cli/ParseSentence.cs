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
                return $"{path} has no option '{word}'; {help} (a file of that name is given as ./{word})";
            }

            return command.Subcommands.Count > 0
                ? $"there is no command '{word}' after '{path}': it knows {Subcommands(command)}; {help}"
                : $"{path} takes no further word '{word}'; {help}";
        }

        if (command.Subcommands.Count > 0)
        {
            return $"'{path}' needs one of its commands: {Subcommands(command)}; {help}";
        }

        foreach (Argument argument in command.Arguments)
        {
            if (argument.Arity.MinimumNumberOfValues > 0 && (parsed.GetResult(argument)?.Tokens.Count ?? 0) == 0)
            {
                return $"{path} needs {argument.Name}: {argument.Description?.TrimEnd('.')}; {help}";
            }
        }

        foreach (Option option in command.Options)
        {
            if (option.Required && parsed.GetResult(option) is null or { Implicit: true })
            {
                return $"{path} needs {option.Name} {option.HelpName}: {option.Description?.TrimEnd('.')}; {help}";
            }
        }

        return $"{parsed.Errors[0].Message.ReplaceLineEndings(" ").TrimEnd('.')}; {help}";
    }

    /// <summary>The words that lead to a command: <c>dmxprobe patch check</c>.</summary>
    public static string Path(Command command)
    {
        string? parent = command.Parents.OfType<Command>().Select(Path).FirstOrDefault();
        return parent is null ? "dmxprobe" : parent + " " + command.Name;
    }

    private static string Subcommands(Command command) =>
        string.Join(", ", command.Subcommands.Where(sub => !sub.Hidden).Select(sub => sub.Name));
}
