using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>The folder that is recorded into: whether it can be, and names in it that nobody has yet.</summary>
internal static class RunFolder
{
    private const int NoRoomUnix = 28; // ENOSPC
    private const int NoRoomWindows = 112; // ERROR_DISK_FULL
    private const int MostNames = 1_000;

    /// <summary>Makes a folder where there is none and sees whether it can be written to, so that nothing is begun for nothing.</summary>
    /// <returns>The folders that were not there before, the deepest first.</returns>
    /// <exception cref="InputException">It cannot be made or written to.</exception>
    public static IReadOnlyList<string> Make(string folder)
    {
        List<string> made = [];
        try
        {
            for (string? each = Path.GetFullPath(folder); each is not null && !Directory.Exists(each); each = Path.GetDirectoryName(each))
            {
                made.Add(each);
            }

            Directory.CreateDirectory(folder);
            string trial = Path.Combine(folder, $".trial-{Guid.NewGuid():N}");
            new FileStream(trial, FileMode.CreateNew).Dispose();
            File.Delete(trial);
            return made;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            RemoveEmpty(made);
            throw Refused(folder, failure);
        }
    }

    /// <summary>Takes folders away again, each only while nothing is in it.</summary>
    public static void RemoveEmpty(IReadOnlyList<string> made)
    {
        try
        {
            foreach (string each in made)
            {
                Directory.Delete(each);
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Something is in it, and in those above.
        }
    }

    /// <summary>Makes the list of a run in the folder and saves it for the first time.</summary>
    /// <param name="settings">How to record.</param>
    /// <param name="started">When the run starts.</param>
    /// <exception cref="InputException">The folder cannot be made or written to.</exception>
    public static RunList Begin(RecorderSettings settings, Timestamp started)
    {
        try
        {
            Make(settings.Folder);
            RunList list = new(Path.Combine(settings.Folder, FreeRunName(settings.Folder, started) + RunList.Suffix), settings, started);
            list.Save();
            return list;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw Refused(settings.Folder, failure);
        }
    }

    /// <summary>The path of a new segment whose first record has this time; no file is there.</summary>
    public static string FreeSegmentPath(string folder, Timestamp first) => Free(folder, first, RecordedFolder.SegmentSuffix);

    /// <summary>Whether a failure is a full disk.</summary>
    public static bool HasNoRoom(Exception failure) => failure.HResult == NoRoomUnix || (failure.HResult & 0xFFFF) == NoRoomWindows;

    private static InputException Refused(string folder, Exception failure) => new(
        folder,
        new InputProblem(
            "this folder cannot be recorded to, nothing is recorded",
            "",
            "a folder that may be written to",
            Found(folder, failure),
            HasNoRoom(failure) ? "free some space or name another folder with -o" : "name another folder with -o"));

    // The system's own sentence would name a trial file, which nobody gave.
    private static string Found(string folder, Exception failure) => failure switch
    {
        _ when File.Exists(folder) => "a file of that name",
        _ when HasNoRoom(failure) => "a disk without room",
        UnauthorizedAccessException => "one that this user may not write to",
        PathTooLongException => "a name that is too long",
        FileNotFoundException or DirectoryNotFoundException => "a place in which no folder can be made",
        IOException => "a place that refuses files: a disk that may only be read, or one that fails",
        _ => "no name of a folder",
    };

    // Two runs that start at once: only one of them makes the file.
    private static string FreeRunName(string folder, Timestamp started)
    {
        string path = Free(folder, started, RunList.Suffix);
        new FileStream(path, FileMode.CreateNew).Dispose();
        return Path.GetFileName(path)[..^RunList.Suffix.Length];
    }

    private static string Free(string folder, Timestamp time, string suffix)
    {
        string name = time.ToString()[..19].Replace(":", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal) + "Z";
        string path = Path.Combine(folder, name + suffix);
        for (int again = 2; again < MostNames && File.Exists(path); again++)
        {
            path = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"{name}_{again}{suffix}"));
        }

        return path;
    }
}
