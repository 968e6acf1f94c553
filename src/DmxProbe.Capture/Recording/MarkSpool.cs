using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Marks that another process leaves in the folder of a recording, a small file each: its name tells the time, its content is
/// the text. The recorder takes them in and deletes them once they are safe.
/// </summary>
public static class MarkSpool
{
    /// <summary>Longest text of a mark in octets of UTF-8.</summary>
    public const int LongestMark = 1_024;

    private const string Prefix = "mark-";
    private const string Suffix = ".txt";
    private const int MostAtOnce = 256;

    /// <summary>Leaves a mark.</summary>
    /// <param name="folder">The folder of the recording.</param>
    /// <param name="text">What happened; at most <see cref="LongestMark"/> octets of UTF-8.</param>
    /// <param name="now">When.</param>
    /// <returns>The path of the file.</returns>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written to.</exception>
    public static string Leave(string folder, string text, Timestamp now)
    {
        byte[] octets = Encoding.UTF8.GetBytes(text);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(octets.Length, LongestMark, nameof(text));
        string name = string.Create(
            CultureInfo.InvariantCulture, $"{Prefix}{now.UnixNanoseconds}-{Guid.NewGuid().ToString("N")[..8]}{Suffix}");
        string path = Path.Combine(folder, name);
        WholeFile.WriteNew(path, octets);
        return path;
    }

    /// <summary>Looks for marks that were left, oldest first; unreadable and oversized files are passed over.</summary>
    internal static List<PendingMark> Find(string folder, IReadOnlySet<string> known)
    {
        List<PendingMark> found = [];
        foreach (string path in Directory.EnumerateFiles(folder, Prefix + "*" + Suffix))
        {
            if (!known.Contains(path) && TryRead(path) is PendingMark mark)
            {
                found.Add(mark);
                if (found.Count == MostAtOnce)
                {
                    break;
                }
            }
        }

        found.Sort((left, right) => left.Time.CompareTo(right.Time));
        return found;
    }

    private static PendingMark? TryRead(string path)
    {
        string[] parts = Path.GetFileNameWithoutExtension(path).Split('-');
        if (parts.Length != 3 || !long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out long time))
        {
            return null;
        }

        try
        {
            FileInfo file = new(path);
            // A link or a pipe under this name is nothing of ours.
            if (file.LinkTarget is not null || file.Length > LongestMark || (file.Attributes & FileAttributes.Device) != 0)
            {
                return null;
            }

            byte[] text = new byte[file.Length];
            using FileStream stream = file.OpenRead();
            stream.ReadExactly(text);
            return new PendingMark(text, Timestamp.FromUnixNanoseconds(time), false, path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
