using System.Security.Cryptography;

using DmxProbe.Reporting.Html;

namespace DmxProbe.Cli;

/// <summary>Lengths and SHA-256 of the files that a report rests on.</summary>
internal static class FileHashes
{
    /// <summary>The files of an input: itself, or those in a folder that was recorded into.</summary>
    /// <param name="path">The input.</param>
    /// <param name="what">What it is.</param>
    public static IEnumerable<ReportFile> Of(string path, string what)
    {
        if (Directory.Exists(path))
        {
            foreach (string file in Directory.EnumerateFiles(path, "*.pcapng").Order(StringComparer.Ordinal))
            {
                yield return One(file, Path.Combine(path, Path.GetFileName(file)), what);
            }
        }
        else if (File.Exists(path))
        {
            yield return One(path, path, what);
        }
        else
        {
            yield return new ReportFile(path, null, "", what);
        }
    }

    private static ReportFile One(string path, string name, string what)
    {
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        return new ReportFile(name, file.Length, Convert.ToHexString(SHA256.HashData(file)), what);
    }
}
