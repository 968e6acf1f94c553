using System.Globalization;
using System.Text;
using DmxProbe.Capture.Filters;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>Opens a folder of recorded segments as one source, by time.</summary>
public static class RecordedFolder
{
    /// <summary>Ends the name of a segment.</summary>
    public const string SegmentSuffix = ".pcapng";

    private const int MostFiles = 65_536;

    /// <summary>
    /// Opens all segments in a folder, folders inside it not. Segments of one run of the recorder stay in the order in which
    /// they were written, whatever the clock did; runs at the same time are merged.
    /// </summary>
    /// <param name="folder">The folder.</param>
    /// <exception cref="InputException">It holds no segment that can be read.</exception>
    public static ICaptureSource Open(string folder)
    {
        ArgumentNullException.ThrowIfNull(folder);
        List<string> notes = [];
        List<IReadOnlyList<SegmentPart>> lanes = Lanes(folder, notes);
        ICaptureSource[] chains = [.. lanes.Select((parts, place) => new SegmentChain(folder, parts, place == 0 ? notes : [], 0))];
        return chains.Length == 1 ? chains[0] : new MergedSource(chains);
    }

    /// <summary>The segments of a folder, in the order in which they were recorded; runs at the same time beside each other.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="notes">Gets what is to be said of its runs.</param>
    /// <exception cref="InputException">It holds no segment that can be read.</exception>
    internal static List<IReadOnlyList<SegmentPart>> Lanes(string folder, List<string> notes)
    {
        List<Run> runs = Runs(folder, notes);
        AddMarksLeft(folder, notes);
        List<List<Run>> lanes = [];
        foreach (Run run in runs.OrderBy(run => run.First).ThenBy(run => run.Paths[0], StringComparer.Ordinal))
        {
            List<Run>? free = lanes.Find(lane => lane[^1].Latest <= run.First);
            if (free is null)
            {
                lanes.Add(free = []);
            }

            free.Add(run);
        }

        return [.. lanes.Select(lane => (IReadOnlyList<SegmentPart>)[.. Parts(lane)])];
    }

    private static IEnumerable<SegmentPart> Parts(List<Run> lane)
    {
        bool followsRun = false;
        foreach (Run run in lane)
        {
            for (int i = 0; i < run.Paths.Count; i++)
            {
                yield return new SegmentPart(run.Paths[i], i == 0 && followsRun && run is { IsListed: true } && run.First < Timestamp.MaxValue ? run.First : null);
            }

            followsRun = run.IsListed;
        }
    }

    private static void AddMarksLeft(string folder, List<string> notes)
    {
        try
        {
            List<PendingMark> left = MarkSpool.Find(folder, new HashSet<string>(StringComparer.Ordinal));
            if (left.Count > 0)
            {
                notes.Add(string.Create(CultureInfo.InvariantCulture,
                    $"{left.Count} {(left.Count == 1 ? "mark was" : "marks were")} left here while nothing recorded: at {left[0].Time} '{Encoding.UTF8.GetString(left[0].Text)}'{(left.Count > 1 ? " and later" : "")}. The next recording into this folder takes them in."));
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // The segments can still be read.
        }
    }

    private static List<Run> Runs(string folder, List<string> notes)
    {
        Dictionary<string, string> left = new(StringComparer.Ordinal);
        List<string> lists = [];
        try
        {
            foreach (string path in Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal).Take(MostFiles))
            {
                string file = Path.GetFileName(path);
                if (file.EndsWith(SegmentSuffix, StringComparison.OrdinalIgnoreCase) && file[0] != '.')
                {
                    left.Add(file, path);
                }
                else if (file.EndsWith(RunList.Suffix, StringComparison.Ordinal))
                {
                    lists.Add(path);
                }
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw Refused(folder, "the folder could not be read", failure.Message, "");
        }

        if (left.Count == 0)
        {
            throw Refused(
                folder, "this folder holds no recording", "no file that ends in .pcapng", "name a capture file, or the folder that was recorded to; a recording that heard nothing leaves no such file");
        }

        List<Run> runs = [];
        InputException? unreadable = null;
        bool readable = false;
        // A list is untrusted: its names are looked for among the files that are there, each once.
        foreach (RunListing listing in lists.Select(RunList.TryRead).OfType<RunListing>())
        {
            if (!listing.IsEnded)
            {
                notes.Add($"The run that began at {listing.Started} was not ended: it still records, or was killed, or the power went; up to a second may be missing at its end.");
            }

            Add([.. listing.Names.Where(left.ContainsKey).Distinct(StringComparer.Ordinal)], isListed: true);
        }

        foreach (string alone in left.Keys.Order(StringComparer.Ordinal).ToArray())
        {
            Add([alone], isListed: false);
        }

        return readable ? runs : throw unreadable!;

        void Add(IReadOnlyList<string> names, bool isListed)
        {
            Timestamp first = Timestamp.MaxValue;
            Timestamp latest = Timestamp.MinValue;
            List<string> paths = [];
            foreach (string name in names)
            {
                left.Remove(name, out string? path);
                paths.Add(path!);
                try
                {
                    SegmentIndex index = SegmentIndex.Of(path!, out _);
                    readable = true;
                    if (index.Entries.Count > 0)
                    {
                        first = index.Entries[0].Time < first ? index.Entries[0].Time : first;
                        latest = index.Latest > latest ? index.Latest : latest;
                    }
                }
                catch (InputException refused)
                {
                    unreadable ??= refused;
                    continue;
                }
            }

            if (paths.Count > 0)
            {
                runs.Add(new Run(paths, first, latest, isListed));
            }
        }
    }

    private static InputException Refused(string folder, string what, string found, string advice) =>
        new(folder, new InputProblem(what, "", "", found, advice));

    // Only of runs on a list is it known where one ended: a segment without a list may be the middle of a run.
    private sealed record Run(IReadOnlyList<string> Paths, Timestamp First, Timestamp Latest, bool IsListed);
}
