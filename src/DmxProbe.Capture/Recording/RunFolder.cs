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
    /// <exception cref="InputException">It cannot be made or written to.</exception>
    public static void Make(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            string trial = Path.Combine(folder, $".trial-{Guid.NewGuid():N}");
            new FileStream(trial, FileMode.CreateNew).Dispose();
            File.Delete(trial);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw Refused(folder, failure);
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
            File.Exists(folder) ? "a file of that name" : failure.Message.TrimEnd('.'),
            HasNoRoom(failure) ? "free some space or name another folder with -o" : "name another folder with -o"));

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
