using System.Text;
using DmxProbe.Fixtures.Mvr;
using DmxProbe.Fixtures.Patch.Recognition;
using DmxProbe.Fixtures.Tables;
using DmxProbe.Fixtures.Tables.Xlsx;

namespace DmxProbe.Fixtures.Patch;

/// <summary>
/// Reads a patch sheet as people have it: CSV of any separator and encoding, xlsx, or an MVR file, headings somewhere in the first rows,
/// columns found by headings and by content (docs/charts-and-sheets.md). Never throws on any bytes. A sheet that can be
/// read in two ways is refused with the question and the option that answers it. What a sheet says is checked by
/// <see cref="PatchCheck"/>.
/// </summary>
public static class PatchReader
{
    /// <summary>Most units of one sheet.</summary>
    public const int MaxUnits = 20_000;

    /// <summary>Longest name.</summary>
    public const int MaxName = 100;

    /// <summary>Highest universe of a sheet's own numbering (as many as sACN can number).</summary>
    public const int MaxUniverse = 63_999;

    /// <summary>Reads a sheet from CSV text whose encoding is known.</summary>
    /// <param name="text">The text.</param>
    /// <param name="options">What a person says about it; null for nothing.</param>
    /// <exception cref="IOException">The reader itself fails.</exception>
    public static PatchReading Read(TextReader text, PatchReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        StringBuilder kept = new();
        char[] block = new char[32 * 1024];
        for (int count; kept.Length <= TableText.MaxCharacters && (count = text.Read(block, 0, block.Length)) > 0;)
        {
            kept.Append(block, 0, count);
        }

        Grid? grid = CsvGrid.Read(kept.ToString(), "text", out TableProblem? problem);
        return grid is null ? new PatchReading(null, [problem!]) : Recognise(grid, options ?? new PatchReadOptions());
    }

    /// <summary>Reads a sheet from a file of any of the kinds.</summary>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <param name="options">What a person says about it; null for nothing.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static PatchReading Read(Stream file, PatchReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(file);
        options ??= new PatchReadOptions();
        if (BoundedBytes.Read(file, TextDecoding.MaxOctets) is not byte[] octets)
        {
            return new PatchReading(null, [new TableProblem("the file is too long", 0, "", "at most 64 MB", "more", "check that it is the right file")]);
        }

        if (XlsxReader.IsZip(octets))
        {
            if (MvrReader.IsMvr(octets))
            {
                MvrReading scene = MvrReader.Read(octets);
                return new PatchReading(scene.Sheet, scene.Problems, new PatchRecognition("an MVR file: the patched fixtures of its scene", 0, [], [], scene.Notes)) { Charts = scene.Charts };
            }

            return XlsxReader.Read(octets, out TableProblem? refused) is { } grids ? Choose(grids, options) : new PatchReading(null, [refused!]);
        }

        if (XlsxReader.IsOldSpreadsheet(octets))
        {
            return new PatchReading(null, [new TableProblem("this is a spreadsheet in the format before xlsx", 0, "", "xlsx or CSV", "", "open it in a spreadsheet and save it as xlsx or CSV")]);
        }

        (string text, string encoding) = TextDecoding.Decode(octets);
        Grid? grid = CsvGrid.Read(text, encoding, out TableProblem? problem);
        return grid is null ? new PatchReading(null, [problem!]) : Recognise(grid, options);
    }

    /// <summary>Of several worksheets the one that is a patch; the question when several are.</summary>
    private static PatchReading Choose(IReadOnlyList<Grid> grids, PatchReadOptions options)
    {
        string[] names = [.. grids.Select(grid => Shown.Quoted(grid.Name))];
        if (options.Worksheet is string wanted)
        {
            return grids.FirstOrDefault(grid => grid.Name.Equals(wanted, StringComparison.OrdinalIgnoreCase)) is { } named
                ? Recognise(named, options)
                : new PatchReading(null, [new TableProblem("there is no such worksheet", 0, "", string.Join(" or ", names), Shown.Quoted(wanted), "correct it after --worksheet")]);
        }

        (Grid Grid, PatchReading Reading)[] read = [.. grids.Select(grid => (grid, Recognise(grid, options)))];
        (Grid Grid, PatchReading Reading)[] patches = [.. read.Where(pair => pair.Reading.Sheet is not null)];
        if (patches.Length > 1)
        {
            string found = string.Join(" and ", patches.Select(pair => Shown.Quoted(pair.Grid.Name)));
            return new PatchReading(null, [new TableProblem("which worksheet is the patch", 0, "", "one of them", found, "say which with --worksheet NAME")]);
        }

        // None is a patch: the one that came nearest says what is wrong with it.
        return patches.Length == 1 ? patches[0].Reading
            : read.OrderByDescending(pair => pair.Reading.Recognition?.Columns.Count ?? 0).ThenByDescending(pair => pair.Grid.Rows.Count).Select(pair => pair.Reading).FirstOrDefault()
            ?? new PatchReading(null, [new TableProblem("the file has no worksheets", 0, "", "one", "none", "check that it is the right file")]);
    }

    private static PatchReading Recognise(Grid grid, PatchReadOptions options)
    {
        if (grid.Rows.Count == 0)
        {
            return new PatchReading(null, [new TableProblem("the file has no rows", 0, "", "headings and rows below them", "none", "check that it is the right file and that it was saved")]);
        }

        ColumnFinder columns = new(grid, options);
        TableProblem? open = columns.Find();
        int heading = columns.HeadingRow < 0 ? 0 : grid.Rows[columns.HeadingRow].Line;
        if (open is not null)
        {
            return new PatchReading(null, [open], new PatchRecognition(grid.Format, heading, [.. columns.Columns], columns.Ignored, []));
        }

        UnitLines lines = new(grid, columns, options);
        PatchSheet? sheet = lines.Read(out IReadOnlyList<TableProblem> problems);
        return new PatchReading(sheet, problems, new PatchRecognition(grid.Format, heading, [.. columns.Columns.OrderBy(column => column.Column)], columns.Ignored, lines.Notes));
    }
}
