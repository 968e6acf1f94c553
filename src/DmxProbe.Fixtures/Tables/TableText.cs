using System.Text;

namespace DmxProbe.Fixtures.Tables;

/// <summary>
/// Prepares the text of a table for the CSV reader: takes off a byte order mark, empties comment lines (so that line
/// numbers stay), finds the separator of the header, and refuses what no CSV reader can make sense of.
/// </summary>
internal static class TableText
{
    /// <summary>More is no chart and no sheet.</summary>
    public const int MaxCharacters = 16 * 1024 * 1024;

    /// <summary>Headings of columns stand within these first lines.</summary>
    private const int LinesOfHeadings = 30;

    /// <summary>Reads all of it and finds the line of the header (0 for none); null and a problem when it cannot be a table.</summary>
    public static string? Prepare(TextReader reader, out char separator, out int headerLine, out TableProblem? problem)
    {
        separator = ',';
        headerLine = 0;
        string? text = ReadBounded(reader);
        if (text is null)
        {
            problem = new TableProblem("the file is too long", 0, "", "at most 16 million characters", "more", "check that it is the right file");
            return null;
        }

        int nul = text.IndexOf('\0', StringComparison.Ordinal);
        if (nul >= 0)
        {
            problem = new TableProblem("this is not a text file", 1 + LineBreaks(text.AsSpan(0, nul)), "", "text with separators", "a zero byte",
                "check that it is the right file, and save it as CSV text (UTF-8)");
            return null;
        }

        StringBuilder kept = new(text.Length);
        int line = 1, quoteLine = 0, start = text.StartsWith('\uFEFF') ? 1 : 0;
        while (start < text.Length)
        {
            int end = text.AsSpan(start).IndexOfAny('\r', '\n');
            int next = end < 0 ? text.Length : start + end + (text.AsSpan(start + end).StartsWith("\r\n") ? 2 : 1);
            ReadOnlySpan<char> content = text.AsSpan(start, (end < 0 ? text.Length : start + end) - start);
            bool comment = quoteLine == 0 && IsComment(content.TrimStart(), line);
            bool empty = content.IsWhiteSpace();
            if (!comment)
            {
                if (headerLine == 0 && !empty)
                {
                    separator = SeparatorOf(content);
                    headerLine = line;
                }

                if (content.Count('"') % 2 == 1)
                {
                    quoteLine = quoteLine == 0 ? line : 0;
                }

                kept.Append(content);
            }

            kept.Append('\n');
            start = next;
            line++;
        }

        problem = quoteLine == 0 ? null : new TableProblem("a quoted text is never closed", quoteLine, "", "a closing quote", "the end of the file",
            "close it, or write a quote that is meant as two quotes inside quotes");
        return problem is null ? kept.ToString() : null;
    }

    /// <summary>A line of a person's own; <c>#</c> alone in the first cell is a heading for numbers.</summary>
    private static bool IsComment(ReadOnlySpan<char> text, int line) =>
        text.StartsWith('#') && (text.Length == 1 || line > LinesOfHeadings || text[1] is not (',' or ';' or '\t' or '|'));

    private static string? ReadBounded(TextReader reader)
    {
        StringBuilder text = new();
        char[] block = new char[32 * 1024];
        for (int count; (count = reader.Read(block, 0, block.Length)) > 0;)
        {
            text.Append(block, 0, count);
            if (text.Length > MaxCharacters)
            {
                return null;
            }
        }

        return text.ToString();
    }

    private static int LineBreaks(ReadOnlySpan<char> text) => Math.Max(text.Count('\n'), text.Count('\r'));

    /// <summary>The most frequent of comma, semicolon and tab outside quotes; a comma when there is none.</summary>
    private static char SeparatorOf(ReadOnlySpan<char> header)
    {
        int commas = 0, semicolons = 0, tabs = 0;
        bool quoted = false;
        foreach (char c in header)
        {
            quoted ^= c == '"';
            commas += !quoted && c == ',' ? 1 : 0;
            semicolons += !quoted && c == ';' ? 1 : 0;
            tabs += !quoted && c == '\t' ? 1 : 0;
        }

        return tabs > commas && tabs > semicolons ? '\t' : semicolons > commas ? ';' : ',';
    }
}
