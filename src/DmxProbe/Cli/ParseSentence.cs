using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Parsing;

using DmxProbe.Fixtures.Tables;

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
                return NoSuchOption(command, word);
            }

            return command.Subcommands.Count > 0
                ? $"there is no command '{word}' after '{path}'{Meant(command, word)}; {help}"
                : $"{Words(path)} takes no further word '{word}'; {help}";
        }

        if (command.Subcommands.Count > 0 && command.Arguments.Count == 0)
        {
            return $"'{path}' needs one of its commands: {Subcommands(command)}; {help}";
        }

        foreach (Argument argument in command.Arguments)
        {
            if (argument.Arity.MinimumNumberOfValues > 0 && (parsed.GetResult(argument)?.Tokens.Count ?? 0) == 0)
            {
                return $"{Words(path)} needs {argument.Name}: {Clause(argument)}; {help}";
            }
        }

        foreach (Option option in command.Options)
        {
            if (option.Required && parsed.GetResult(option) is null or { Implicit: true })
            {
                return $"{Words(path)} needs {option.Name} {option.HelpName}: {Clause(option)}; {help}";
            }
        }

        if (parsed.Errors.Select(error => error.SymbolResult).OfType<OptionResult>().FirstOrDefault() is OptionResult wrong && Value(wrong) is string sentence)
        {
            return $"{sentence}; {help}";
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
                .FirstOrDefault(value => value.Length > 1 && value[0] == '-' && !IsNegative(value));
        return word is null ? null : NoSuchOption(parsed.CommandResult.Command, word);
    }

    /// <summary>The words that lead to a command: <c>dmxprobe patch check</c>.</summary>
    public static string Path(Command command)
    {
        string? parent = command.Parents.OfType<Command>().Select(Path).FirstOrDefault();
        return parent is null ? "dmxprobe" : parent + " " + command.Name;
    }

    /// <summary>
    /// The sentence for a value that is no more than two quotation marks, or null: it is a variable of a script that was not
    /// set. A channel of a recording may have no name.
    /// </summary>
    public static string? EmptyValue(ParseResult parsed)
    {
        SymbolResult? empty = parsed.CommandResult.Children
            .FirstOrDefault(child => child.Tokens.Any(token => token.Value.Length == 0) && child is not OptionResult { Option.Name: LineChoice.Channel });
        string path = Path(parsed.CommandResult.Command);
        return empty switch
        {
            OptionResult option => $"{option.Option.Name} is given an empty value: {Short(option.Option)}; see '{path} --help'",
            ArgumentResult argument => $"{argument.Argument.Name} is empty: {Short(argument.Argument)}; see '{path} --help'",
            _ => null,
        };
    }

    // What is wrong with an option's value, and what may stand there; null where it is not the value.
    private static string? Value(OptionResult wrong)
    {
        if (wrong.Tokens.Count == 0)
        {
            return $"{wrong.Option.Name} needs a value: {Short(wrong.Option)}";
        }

        Type type = Nullable.GetUnderlyingType(wrong.Option.ValueType) ?? wrong.Option.ValueType;
        string[] words = [.. wrong.Option.GetCompletions(CompletionContext.Empty).Select(item => item.Label)];
        string? wanted = type == typeof(int) || type == typeof(long) ? "a whole number is wanted"
            : type == typeof(double) ? "a number is wanted, with a point for decimals"
            : type == typeof(string) && words.Length > 0 ? $"{string.Join(", ", words[..^1])}{(words.Length > 1 ? " or " : "")}{words[^1]} is wanted"
            : null;
        string[] given = [.. wrong.Tokens.Select(token => token.Value)];
        return wrong.Tokens.Count > 1 && wrong.Option.Arity.MaximumNumberOfValues == 1
            ? $"{wrong.Option.Name} is given {wrong.Tokens.Count} times; once is enough"
            : wanted is null ? null
            : $"{wrong.Option.Name} '{given[^1]}': {wanted}";
    }

    // Without the program's name, which every message begins with.
    private static string Words(string path) => path.StartsWith("dmxprobe ", StringComparison.Ordinal) ? path["dmxprobe ".Length..] : path;

    // As far as its first semicolon or full stop: --help has the rest.
    private static string Clause(Symbol symbol) => Hint(symbol).Split(';')[0].Split(". ")[0];

    // The description of a word, as it reads inside a sentence.
    private static string Hint(Symbol symbol) =>
        symbol.Description is { Length: > 0 } text ? char.ToLowerInvariant(text[0]) + text[1..].TrimEnd('.') : "a value";

    // As far as its first stop.
    private static string Short(Symbol symbol)
    {
        string hint = Hint(symbol);
        int end = hint.IndexOfAny([';', ':', '.', '(']);
        return (end < 0 ? hint : hint[..end]).TrimEnd();
    }

    // An option of another command is no file: then it is said whose it is.
    private static string NoSuchOption(Command command, string word)
    {
        string path = Path(command);
        string name = word.Split('=', ':')[0];
        string[] owners = [.. Below(Root(command)).Where(other => other.Options.Any(option => option.Name == name || option.Aliases.Contains(name))).Select(Path)];
        string rest = owners.Length == 0 ? $" (a file of that name is given as ./{word})"
            : owners.Length > 3 ? $" ({name} is an option of other commands)"
            : $" ({name} is an option of {string.Join(" and ", owners)})";
        return $"{Words(path)} has no option '{word}'; see '{path} --help'{rest}";
    }

    private static Command Root(Command command) => command.Parents.OfType<Command>().FirstOrDefault() is Command parent ? Root(parent) : command;

    private static IEnumerable<Command> Below(Command command) => command.Subcommands.Where(sub => !sub.Hidden).SelectMany(sub => Below(sub).Prepend(sub));

    // A number below zero is a value: whoever takes it says what range it wants.
    private static bool IsNegative(string value) => value[1] is (>= '0' and <= '9') or '.';

    // The command that may have been meant, or all there are.
    private static string Meant(Command command, string word)
    {
        IReadOnlyList<string> near = Nearest.Of(word, command.Subcommands.Where(sub => !sub.Hidden && Math.Abs(sub.Name.Length - word.Length) < 3).Select(sub => sub.Name), 1);
        return near.Count > 0 ? $"; the nearest is '{near[0]}'" : $": it knows {Subcommands(command)}";
    }

    private static string Subcommands(Command command) =>
        string.Join(", ", command.Subcommands.Where(sub => !sub.Hidden).Select(sub => sub.Name));
}
