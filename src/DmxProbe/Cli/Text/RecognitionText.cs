using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Cli.Text;

/// <summary>What was recognised in a patch sheet, shown before it is used.</summary>
internal static class RecognitionText
{
    private const int MostNotes = 8;
    private const int LabelWidth = 12;

    /// <summary>The columns and decisions, a line each.</summary>
    public static void Write(TextPage page, PatchRecognition recognition, bool all)
    {
        page.Blank();
        page.Heading("The sheet as it was read");
        page.Paragraph(recognition.Format + (recognition.Columns.Count == 0 ? "" : recognition.HeadingLine > 0 ? $", headings on line {recognition.HeadingLine}" : ", no headings"), indent: 2);
        foreach (RecognisedColumn column in recognition.Columns)
        {
            page.Labelled(Word(column.Column), $"column {column.Letters}{(column.Heading.Length > 0 ? $" '{column.Heading}'" : "")}, {column.Reason}", LabelWidth);
        }

        if (recognition.Ignored.Count > 0)
        {
            page.Labelled("left out", string.Join(", ", recognition.Ignored.Take(12).Select(heading => $"'{heading}'")) + (recognition.Ignored.Count > 12 ? " ..." : ""), LabelWidth);
        }

        foreach (string note in recognition.Notes.Take(all ? int.MaxValue : MostNotes))
        {
            page.Paragraph(note, indent: 2);
        }

        if (!all && recognition.Notes.Count > MostNotes)
        {
            page.Paragraph($"and {Figures.Count(recognition.Notes.Count - MostNotes, "note")} more (--all shows all)", indent: 2);
        }
    }

    /// <summary>The same in one sentence, for evidence.</summary>
    public static string InOneLine(PatchRecognition recognition)
    {
        string columns = string.Join(", ", recognition.Columns.Where(column => column.Column <= PatchColumn.Address).Select(column => $"{Word(column.Column)} {column.Letters}"));
        return $"{recognition.Format}{(columns.Length > 0 ? "; columns " + columns : "")}{string.Concat(recognition.Notes.Take(MostNotes).Select(note => "; " + note))}";
    }

    private static string Word(PatchColumn column) => column == PatchColumn.SharesWith ? "sharesWith" : column.ToString().ToLowerInvariant();
}
