using System.CommandLine;

namespace DmxProbe.Cli;

/// <summary>The command line as a person would type it again.</summary>
internal static class CommandWords
{
    /// <summary>The words, quoted where a shell wants it.</summary>
    public static string Of(ParseResult parsed) => "dmxprobe " + string.Join(' ', parsed.Tokens.Select(token => Quoted(token.Value)));

    private static string Quoted(string word) =>
        word.Length > 0 && word.All(character => char.IsAsciiLetterOrDigit(character) || "-_./:=,+@%".Contains(character, StringComparison.Ordinal))
            ? word
            : "'" + word.Replace("'", "'\\''", StringComparison.Ordinal) + "'";
}
