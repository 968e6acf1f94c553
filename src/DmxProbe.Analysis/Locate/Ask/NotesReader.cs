using System.Globalization;

using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Reads notes: <c>time,unit,look</c> and optional <c>raised</c>, the headings in the first line; separator comma,
/// semicolon or tab; lines that begin with # are comments. docs/asking.md has the format.
/// </summary>
public static class NotesReader
{
    /// <summary>Most lines taken.</summary>
    public const int MostNotes = 10_000;

    // As many names as a sentence bears.
    private const int MostOthers = 3;

    private static readonly char[] Separators = ['\t', ';', ','];
    private static readonly string[] Columns = ["time", "unit", "look", "raised"];

    /// <summary>Reads the notes about one unit.</summary>
    /// <param name="text">The CSV text.</param>
    /// <param name="rig">What slots are named by.</param>
    /// <param name="sheet">The sheet: a name that is not on it is refused.</param>
    /// <param name="unit">The unit; notes about others are counted.</param>
    /// <param name="time">Reads a time; null where it is none.</param>
    public static NotesReading Read(TextReader text, AskRig rig, PatchSheet sheet, string unit, Func<string, Timestamp?> time)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(time);
        List<AskNote> notes = [];
        int[]? places = null;
        char separator = ',';
        int others = 0;
        List<string> otherUnits = [];
        int number = 0;
        while (text.ReadLine() is string line)
        {
            number++;
            line = number == 1 ? line.TrimStart('\uFEFF') : line;
            if (line.AsSpan().IsWhiteSpace() || line.AsSpan().TrimStart().StartsWith("#"))
            {
                continue;
            }

            if (places is null)
            {
                separator = Separators.FirstOrDefault(each => line.Contains(each, StringComparison.Ordinal), ',');
                NoteCell[] heads = NoteCell.Of(line, separator);
                places = [.. Columns.Select(name => Array.FindIndex(heads, head => head.Text.Equals(name, StringComparison.OrdinalIgnoreCase)))];
                if (places[0] < 0 || places[1] < 0 || places[2] < 0)
                {
                    return Refused("the first line does not name the columns of notes", number, 1, "", "time,unit,look", line, "name the columns in the first line, then write a line for each thing seen");
                }

                continue;
            }

            NoteCell[] cells = NoteCell.Of(line, separator);
            if (cells.Length <= places[..3].Max())
            {
                return Refused("a note is too short", number, line.Length + 1, "", "a time, a unit and a look", line, "write it as 12.5,LX1-6,dark");
            }

            if (notes.Count + others == MostNotes)
            {
                return Refused("there are too many notes", number, 1, "", string.Create(CultureInfo.InvariantCulture, $"at most {MostNotes:#,0}"), "more", "leave out those of other evenings");
            }

            if (time(cells[places[0]].Text) is not Timestamp when)
            {
                return Refused("a time cannot be read", number, cells[places[0]].Column, "time", "seconds from the first record (12.5), a time of day (19:41:07) or ISO 8601", cells[places[0]].Text, "write one of these");
            }

            NoteCell who = cells[places[1]];
            if (sheet.Find(who.Text) is null)
            {
                IReadOnlyList<string> near = sheet.NearestNames(who.Text, 2);
                return Refused("a unit is not on the sheet", number, who.Column, "unit", near.Count > 0 ? string.Join(" or ", near.Select(name => "'" + LocateWords.Plain(name) + "'")) : "a unit of the sheet", who.Text, "write it as the sheet does");
            }

            NoteCell what = cells[places[2]];
            if (SeenWords.Read(what.Text) is not Seen seen)
            {
                return Refused("a look cannot be understood", number, what.Column, "look", SeenWords.Known, what.Text, "write one of these");
            }

            IReadOnlyList<RaisedSlot>? raised = null;
            if (seen.Kind != SeenKind.Log && places[3] >= 0 && places[3] < cells.Length && cells[places[3]] is { Text.Length: > 0 } up)
            {
                raised = RaisedText.Read(rig, up.Text);
                if (raised is null)
                {
                    return Refused("raised slots cannot be read", number, up.Column, "raised", "universe.slot@level, as in 1.016-020@255 2.101@128, or none", up.Text, "write them like that, or leave the cell empty for what the capture says");
                }
            }

            if (!who.Text.Equals(unit, StringComparison.OrdinalIgnoreCase))
            {
                others++;
                if (otherUnits.Count < MostOthers && !otherUnits.Contains(who.Text, StringComparer.OrdinalIgnoreCase))
                {
                    otherUnits.Add(who.Text);
                }
            }
            else
            {
                notes.Add(new AskNote(when, seen, raised, number));
            }
        }

        return places is null
            ? Refused("the file is empty", 0, 0, "", "time,unit,look and lines below it", "nothing", "check that it is the right file")
            : new NotesReading([.. notes.OrderBy(note => note.Time)], others, null) { Others = otherUnits };
    }

    private static NotesReading Refused(string what, int line, int column, string name, string expected, string found, string advice)
    {
        string where = line == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"line {line}, column {column}") + (name.Length > 0 ? " (" + name + ")" : "");
        string shown = found == "nothing" || found == "more" ? found : "'" + LocateWords.Plain(found) + "'";
        return new NotesReading([], 0, new InputProblem(what, where, expected, shown, advice));
    }
}
