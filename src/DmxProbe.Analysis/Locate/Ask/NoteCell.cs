namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>A cell of a line, with the column of the line at which it starts, from 1.</summary>
internal readonly record struct NoteCell(string Text, int Column)
{
    /// <summary>Parts a line; a cell in double quotes may hold the separator.</summary>
    public static NoteCell[] Of(string line, char separator)
    {
        List<NoteCell> cells = [];
        int from = 0;
        bool quoted = false;
        for (int i = 0; i <= line.Length; i++)
        {
            if (i < line.Length && line[i] == '"')
            {
                quoted = !quoted;
            }

            if (i == line.Length || (line[i] == separator && !quoted))
            {
                string raw = line[from..i];
                int lead = raw.Length - raw.TrimStart().Length;
                cells.Add(new NoteCell(raw.Trim().Trim('"').Trim(), from + Math.Min(lead, Math.Max(raw.Length - 1, 0)) + 1));
                from = i + 1;
            }
        }

        return [.. cells];
    }
}
