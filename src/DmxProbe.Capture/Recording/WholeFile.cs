namespace DmxProbe.Capture.Recording;

/// <summary>Writes small files so that a reader sees the old one or the new one, never half of it, also after a power cut.</summary>
internal static class WholeFile
{
    /// <summary>Writes a file, in place of one of the same name.</summary>
    public static void Write(string path, ReadOnlySpan<byte> bytes) => Put(path, bytes, overwrite: true);

    /// <summary>Writes a file that is not there yet.</summary>
    /// <exception cref="IOException">There is one, or it cannot be written.</exception>
    public static void WriteNew(string path, ReadOnlySpan<byte> bytes) => Put(path, bytes, overwrite: false);

    private static void Put(string path, ReadOnlySpan<byte> bytes, bool overwrite)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        string unfinished = Path.Combine(folder, ".dmxprobe-" + Guid.NewGuid().ToString("N") + ".tmp");
        try
        {
            using (FileStream stream = new(unfinished, FileMode.CreateNew, FileAccess.Write, FileShare.None, 0))
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(unfinished, path, overwrite);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            File.Delete(unfinished);
            throw;
        }
    }
}
