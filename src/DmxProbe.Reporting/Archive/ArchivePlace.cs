using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Archive;

/// <summary>Where a file of an archive stands: its folders, each below the one before, as <c>key=value</c>.</summary>
/// <param name="Folders">The folders.</param>
/// <param name="File">The file.</param>
public sealed record ArchivePlace(IReadOnlyList<string> Folders, string File)
{
    /// <summary>The place of a table of levels or frames.</summary>
    /// <param name="table"><c>levels</c> or <c>frames</c>.</param>
    /// <param name="show">The show.</param>
    /// <param name="hour">Hours since 1970, UTC.</param>
    /// <param name="universe">The universe as a folder.</param>
    internal static ArchivePlace Of(string table, ArchiveShow show, long hour, string universe)
    {
        DateTime time = DateTime.UnixEpoch.AddHours(hour);
        return new ArchivePlace(
            [table, "show_key=" + show.Folder, "date=" + Date(show, time), string.Create(CultureInfo.InvariantCulture, $"hour={time.Hour:00}"), "universe=" + universe],
            show.Recording + ".parquet");
    }

    /// <summary>The place of a table that is one file a recording.</summary>
    internal static ArchivePlace Of(string table, ArchiveShow show, Timestamp first) =>
        new([table, "show_key=" + show.Folder, "date=" + Date(show, DateTime.UnixEpoch.AddTicks(first.UnixNanoseconds / 100))], show.Recording + ".parquet");

    private static string Date(ArchiveShow show, DateTime time) => show.IsUndated ? "undated" : time.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
