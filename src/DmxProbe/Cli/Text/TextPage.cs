using System.Text;

using DmxProbe.Reporting.Text;

using Spectre.Console;
using Spectre.Console.Rendering;

using CellText = Spectre.Console.Text;

namespace DmxProbe.Cli.Text;

/// <summary>
/// A page of plain text for a terminal, wrapped between words. Everything that goes in passes <see cref="Printable"/>,
/// so no caller can forget it.
/// </summary>
internal sealed class TextPage(int width, bool color)
{
    private readonly StringBuilder _text = new();

    /// <summary>Columns to fill.</summary>
    public int Width => width;

    /// <summary>An empty line.</summary>
    public void Blank() => _text.Append('\n');

    /// <summary>A heading on a line of its own.</summary>
    public void Heading(string text) => Line(0, "", Tone.Strong, text);

    /// <summary>A paragraph; its further lines start where the first does.</summary>
    public void Paragraph(string text, int indent = 0, Tone tone = Tone.Plain) => Line(indent, "", tone, text);

    /// <summary>A label and text that hangs beside it, in a column of <paramref name="labelWidth"/>.</summary>
    public void Labelled(string label, string text, int labelWidth, int indent = 2, Tone tone = Tone.Plain)
    {
        string printable = Printable.Text(label);
        string padded = printable + new string(' ', Math.Max(2, labelWidth - CellWidth(printable)));
        Append(indent, padded, tone, Tone.Plain, text);
    }

    /// <summary>Pairs of a name and what it is, in two columns; a long name has its text on the next line.</summary>
    public void Pairs(IReadOnlyList<(string Name, string What)> pairs, int indent)
    {
        int widest = Math.Min(pairs.Max(pair => CellWidth(pair.Name)), 28) + 2;
        foreach ((string name, string what) in pairs)
        {
            if (CellWidth(name) + 2 <= widest)
            {
                Labelled(name, what, widest, indent);
            }
            else
            {
                Paragraph(name, indent);
                Paragraph(what, indent + widest);
            }
        }
    }

    /// <summary>A table without lines; figures to the right.</summary>
    /// <param name="headers">A header for each column; a line feed in it starts a second line.</param>
    /// <param name="figures">Which columns are figures; the others are words.</param>
    /// <param name="rows">The cells.</param>
    /// <param name="indent">Columns left free before it.</param>
    public void Table(IReadOnlyList<string> headers, IReadOnlySet<int> figures, IEnumerable<IReadOnlyList<string>> rows, int indent = 2)
    {
        Table table = new() { Border = TableBorder.None, ShowHeaders = true };
        for (int i = 0; i < headers.Count; i++)
        {
            bool figure = figures.Contains(i);
            table.AddColumn(new TableColumn(new CellText(headers[i]))
            {
                Alignment = figure ? Justify.Right : Justify.Left,
                NoWrap = figure,
                Padding = new Padding(i == 0 ? indent : 1, 0, 1, 0),
            });
        }

        foreach (IReadOnlyList<string> row in rows)
        {
            // Text, never Markup: what a name says in square brackets is not for us to obey.
            table.AddRow(row.Select(cell => new CellText(Printable.Text(cell))));
        }

        _text.Append(Render(table));
    }

    /// <summary>Writes the page.</summary>
    /// <exception cref="OutputClosedException">The reader of our output has gone.</exception>
    public void WriteTo(TextWriter output)
    {
        try
        {
            output.Write(_text.ToString());
            output.Flush();
        }
        catch (IOException closed)
        {
            throw new OutputClosedException(closed);
        }
    }

    private void Line(int indent, string label, Tone tone, string text) => Append(indent, label, tone, tone, text);

    private void Append(int indent, string label, Tone labelTone, Tone textTone, string text)
    {
        int start = indent + CellWidth(label);
        string hang = new(' ', start);
        _text.Append(' ', indent).Append(Toned(labelTone, label));
        bool first = true;
        foreach (string line in Wrap(Printable.Text(text), Math.Max(20, width - start)))
        {
            _text.Append(first ? "" : hang).Append(Toned(textTone, line)).Append('\n');
            first = false;
        }
    }

    private static IEnumerable<string> Wrap(string text, int columns)
    {
        StringBuilder line = new();
        int used = 0;
        foreach (string word in text.Split(' '))
        {
            int cells = CellWidth(word);
            if (used > 0 && used + 1 + cells > columns)
            {
                yield return line.ToString().TrimEnd();
                line.Clear();
                used = 0;
            }

            line.Append(used > 0 ? " " : "").Append(word);
            used += cells + (used > 0 ? 1 : 0);
        }

        yield return line.ToString().TrimEnd();
    }

    private string Toned(Tone tone, string text) => !color || text.Length == 0 ? text : tone switch
    {
        Tone.Strong => $"\e[1m{text}\e[0m",
        Tone.Fault => $"\e[1;31m{text}\e[0m",
        Tone.Warning => $"\e[33m{text}\e[0m",
        Tone.Good => $"\e[32m{text}\e[0m",
        _ => text,
    };

    private static int CellWidth(string text) => text.Length == 0 ? 0 : new Segment(text).CellCount();

    private string Render(Table table)
    {
        using StringWriter buffer = new() { NewLine = "\n" };
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = AnsiSupport.No,
            ColorSystem = ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(buffer),
        });
        console.Profile.Width = width;
        console.Profile.Capabilities.Unicode = true;
        console.Write(table);

        // Cells are padded to their column: spaces at the end of a line serve nobody.
        return string.Concat(buffer.ToString().Split('\n')[..^1].Select(line => line.TrimEnd() + "\n"));
    }
}
