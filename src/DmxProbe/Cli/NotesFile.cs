using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Notes that a person took: CSV <c>time,unit</c>, optional <c>look</c>; what was raised for <c>locate</c> is no note of a walk.</summary>
internal static class NotesFile
{
    private const int MostNotes = 100_000;
    private const int RaisedColumn = 3;
    private static readonly char[] Separators = [',', ';', '\t'];

    /// <summary>Reads them, oldest first.</summary>
    /// <exception cref="InputException">The file cannot be opened.</exception>
    /// <exception cref="UsageException">A line is none; one sentence with its place.</exception>
    public static IReadOnlyList<WalkNote> Read(string path, PatchSheet sheet, Timestamp first, TimeZoneInfo zone)
    {
        using StreamReader text = TextFile.Open(path);
        List<WalkNote> notes = [];
        int number = 0;
        bool header = true;
        while (text.ReadLine() is string line)
        {
            number++;
            string[] cells = [.. line.Split(Separators).Select(cell => cell.Trim().Trim('"'))];
            if (line.AsSpan().IsWhiteSpace() || line.StartsWith('#'))
            {
                continue;
            }

            if (header)
            {
                header = false;
                if (cells.Length < 2 || !cells[0].Equals("time", StringComparison.OrdinalIgnoreCase) || !cells[1].Equals("unit", StringComparison.OrdinalIgnoreCase))
                {
                    throw new UsageException($"{path}: line {number}: expected the headings time,unit, found '{line}'; write a line for each time you turned to another unit");
                }

                continue;
            }

            if (cells.Length < 2 || notes.Count == MostNotes)
            {
                throw new UsageException($"{path}: line {number}: expected a time and a unit, found '{line}'; write them as 19:41:07,LX1-6");
            }

            // Answers to the guided questions of locate, where one file takes both.
            if (cells.Length > RaisedColumn && (cells[RaisedColumn].Length > 0 || cells[2].StartsWith("as ", StringComparison.OrdinalIgnoreCase)))
            {
                continue;
            }

            Timestamp time = AskedTime.Parse(cells[0], zone, $"{path}: line {number}").In(first);
            // Two units of one name are one note: whichever of them moves was meant.
            notes.Add(new WalkNote(time, (sheet.Find(cells[1]) ?? LocateRun.UnitOf(sheet, cells[1], $"the time in line {number} of {path}")).Unit, cells.Length > 2 ? cells[2] : ""));
        }

        return header
            ? throw new UsageException($"{path}: the file has no rows: expected the headings time,unit and rows below; check that it is the right file")
            : [.. notes.OrderBy(note => note.Time)];
    }
}
