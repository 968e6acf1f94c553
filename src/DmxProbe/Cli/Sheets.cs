using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Reads patch sheets and charts from files.</summary>
internal static class Sheets
{
    private const string ChartFolder = "charts";

    /// <summary>Reads a patch sheet, CSV or xlsx, and the charts of its types.</summary>
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

        ChartSet set = Charts(path, sheet, charts);
        sheet = PatchModes.Resolve(sheet, set, out IReadOnlyList<string> notes);
        return new SheetInUse(path, sheet, set, recognition with { Notes = [.. recognition.Notes, .. notes] });
    }

    /// <summary>Reads one chart; its type is the name of its file.</summary>
    /// <exception cref="InputException">It cannot be opened.</exception>
    /// <exception cref="UsageException">It is no chart.</exception>
    public static Chart Chart(string path)
    {
        using StreamReader text = TextFile.Open(path);
        ChartReading reading = ChartReader.Read(Path.GetFileNameWithoutExtension(path), text);
        return reading.Chart ?? throw Refused(path, reading.Problems);
    }

    /// <summary>Reads the charts of the types on a sheet: files named after them, TYPE.csv.</summary>
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
        return new ChartSet(
            Directory.EnumerateFiles(place, "*.csv")
                .Where(file => Array.Exists(types, type => IsOf(type, Path.GetFileNameWithoutExtension(file))))
                .Order(StringComparer.Ordinal)
                .Select(Chart));
    }

    private static bool IsOf(string type, string chart) => type.Equals(chart, StringComparison.OrdinalIgnoreCase) || PatchModes.SameName(type, chart);

    private static UsageException Refused(string path, IReadOnlyList<TableProblem> problems)
    {
        string more = problems.Count > 1 ? $" (and {problems.Count - 1} more like it)" : "";
        return new UsageException($"{path}: {(problems.Count > 0 ? problems[0] : "it holds nothing")}{more}");
    }
}
