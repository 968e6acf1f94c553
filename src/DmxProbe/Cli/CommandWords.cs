using System.CommandLine;
using System.CommandLine.Parsing;

namespace DmxProbe.Cli;

/// <summary>The command line as a person would type it again.</summary>
internal static class CommandWords
{
    /// <summary>The words with the page to write under a name that is always the same, so that the page does not depend on what it is called.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="page">The page among its words.</param>
    public static string WithoutPage(ParseResult parsed, string page) => Of(parsed, [], page);

    /// <summary>The same as it would be typed in the folder of the inputs.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="inputs">The inputs among its words.</param>
    /// <param name="page">The page among its words.</param>
    public static string WithoutFolders(ParseResult parsed, IReadOnlyList<string> inputs, string page) => Of(parsed, inputs, page);

    private static string Of(ParseResult parsed, IReadOnlyList<string> inputs, string page)
    {
        IReadOnlyList<string> shown = inputs.Count > 0 ? ShownNames.Of(inputs) : [];
        int place = 0;
        return "dmxprobe " + string.Join(' ', parsed.Tokens.Select(token => Quoted(
            place < inputs.Count && token.Type == TokenType.Argument && token.Value == inputs[place] ? shown[place++]
            : token.Value == page ? "PAGE.html"
            : token.Value)));
    }

    private static string Quoted(string word) =>
        word.Length > 0 && word.All(character => char.IsAsciiLetterOrDigit(character) || "-_./:=,+@%".Contains(character, StringComparison.Ordinal))
            ? word
            : "'" + word.Replace("'", "'\\''", StringComparison.Ordinal) + "'";
}
