using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Reads patch sheets and charts from files.</summary>
internal static class Sheets
{
    private const string ChartFolder = "charts";
    private static readonly HashSet<string> Forms = new(StringComparer.OrdinalIgnoreCase) { ".csv", ".gdtf", ".json" };

    /// <summary>Reads a patch sheet, CSV, xlsx or MVR, and the charts of its types.</summary>
    /// <param name="path">The sheet.</param>
    /// <param name="charts">The folder of the charts; null: beside the sheet.</param>
    /// <param name="options">What the person says about the sheet.</param>
    /// <exception cref="InputException">The sheet or a chart cannot be opened.</exception>
    /// <exception cref="UsageException">It is no patch sheet, it can be read in two ways, or a chart is refused.</exception>
    public static SheetInUse Open(string path, string? charts, PatchReadOptions options)
    {
        PatchReading reading;
        using (FileStream file = TextFile.OpenBytes(path))
        {
            reading = PatchReader.Read(file, options);
        }

        if (reading is not { Sheet: PatchSheet sheet, Recognition: PatchRecognition recognition })
        {
            throw Refused(path, reading.Problems);
        }

        // A chart a person put beside the sheet goes before the one that came inside it.
        ChartSet set = new([.. Charts(path, sheet, charts).Charts, .. reading.Charts]);
        sheet = PatchModes.Resolve(sheet, set, out IReadOnlyList<string> notes);
        return new SheetInUse(path, sheet, set, recognition with { Notes = [.. recognition.Notes, .. notes] });
    }

    /// <summary>Reads one chart of any form; its type is the name of its file.</summary>
    /// <exception cref="InputException">It cannot be opened.</exception>
    /// <exception cref="UsageException">It is no chart.</exception>
    public static ChartReading Chart(string path)
    {
        using FileStream file = TextFile.OpenBytes(path);
        ChartReading reading = ChartFile.Read(Path.GetFileNameWithoutExtension(path), file);
        return reading.Chart is not null ? reading : throw Refused(path, reading.Problems);
    }

    /// <summary>Reads the charts in a file: one, or those of the fixtures in an MVR file.</summary>
    /// <exception cref="InputException">It cannot be opened.</exception>
    /// <exception cref="UsageException">It holds no chart.</exception>
    public static ChartsReading ChartsIn(string path)
    {
        using FileStream file = TextFile.OpenBytes(path);
        ChartsReading reading = ChartFile.ReadAll(Path.GetFileNameWithoutExtension(path), file);
        return reading.Charts.Count > 0 ? reading : throw Refused(path, reading.Problems);
    }

    /// <summary>Reads the charts of the types on a sheet: files named after them, TYPE.gdtf, TYPE.json or TYPE.csv.</summary>
    /// <param name="sheetPath">The sheet.</param>
    /// <param name="sheet">What it says.</param>
    /// <param name="folder">Where to look; null: the folder <c>charts</c> beside the sheet, or else the sheet's own.</param>
    /// <exception cref="InputException">A chart cannot be opened.</exception>
    /// <exception cref="UsageException">The folder is not there, or a chart is refused.</exception>
    public static ChartSet Charts(string sheetPath, PatchSheet sheet, string? folder)
    {
        string beside = Path.GetDirectoryName(Path.GetFullPath(sheetPath)) ?? ".";
        string place = folder ?? Path.Combine(beside, ChartFolder);
        if (!Directory.Exists(place))
        {
            if (folder is not null)
            {
                throw new UsageException($"{folder}: there is no such folder of charts; check the name after --charts");
            }

            place = beside;
        }

        // Names on a sheet are untrusted: they are looked for among the files that are there, never made into a path.
        string[] types = [.. sheet.Units.Select(unit => unit.Type).Distinct(StringComparer.OrdinalIgnoreCase)];
        List<Chart> charts = [];
        foreach (string file in Directory.EnumerateFiles(place).Where(file => Forms.Contains(Path.GetExtension(file))).Order(StringComparer.Ordinal).OrderBy(Rank))
        {
            string[] names = Names(Path.GetFileNameWithoutExtension(file));
            string[] meant = [.. types.Where(type => Array.Exists(names, name => IsOf(type, name)))];
            if (meant.Length > 0 && Chart(file).Chart is { } chart)
            {
                // What a person typed goes before what was fetched: the first chart of a type stays.
                string own = names[0];
                charts.Add(chart);
                charts.AddRange(meant.Where(type => !IsOf(type, own)).Select(type => chart with { Type = type }));
            }
        }

        return new ChartSet(charts);
    }

    private static int Rank(string file) => Path.GetExtension(file).Equals(".csv", StringComparison.OrdinalIgnoreCase) ? 0 : 1;

    /// <summary>The names a chart's file goes by: its own, and for GDTF's <c>maker@type@comment</c> the type, alone and after the maker.</summary>
    private static string[] Names(string file) =>
        file.Split('@', StringSplitOptions.TrimEntries) is [var maker, { Length: > 0 } type, ..] ? [file, type, maker + " " + type] : [file];

    private static bool IsOf(string type, string chart) => type.Equals(chart, StringComparison.OrdinalIgnoreCase) || PatchModes.SameName(type, chart);

    private static UsageException Refused(string path, IReadOnlyList<TableProblem> problems)
    {
        string more = problems.Count > 1 ? $" (and {problems.Count - 1} more like it)" : "";
        return new UsageException($"{path}: {(problems.Count > 0 ? problems[0] : "it holds nothing")}{more}");
    }
}
