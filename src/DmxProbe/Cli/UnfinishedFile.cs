namespace DmxProbe.Cli;

/// <summary>
/// A file that appears under its name only when it is whole: it is written under another name in the same folder, and is gone
/// when the writing ends early. An existing file is never written over.
/// </summary>
internal sealed class UnfinishedFile : IDisposable
{
    private readonly string _path;
    private readonly string _unfinished;

    private UnfinishedFile(string path, string unfinished, FileStream stream)
    {
        _path = path;
        _unfinished = unfinished;
        Stream = stream;
    }

    /// <summary>Where to write.</summary>
    public FileStream Stream { get; }

    /// <summary>Begins a file.</summary>
    /// <param name="option">The option that names it, for the sentence.</param>
    /// <param name="path">Its name.</param>
    /// <exception cref="UsageException">There is one already, or none can be made there.</exception>
    public static UnfinishedFile Begin(string option, string path)
    {
        if (File.Exists(path) || Directory.Exists(path))
        {
            throw new UsageException($"{path}: there is such a file already, and nothing is written over; give {option} another name");
        }

        try
        {
            string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
            if (!Directory.Exists(folder))
            {
                throw new UsageException($"{path}: there is no folder {folder}; name a file in a folder that exists and that you may write to");
            }

            string unfinished = Path.Combine(folder, ".dmxprobe-" + Guid.NewGuid().ToString("N") + ".tmp");
            return new UnfinishedFile(path, unfinished, new FileStream(unfinished, FileMode.CreateNew, FileAccess.ReadWrite));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new UsageException($"{path}: no file can be written there ({Why(failure)}); name a file in a folder that exists and that you may write to");
        }
    }

    // The system's own sentence would name the unfinished file, which nobody gave.
    private static string Why(Exception failure) => failure switch
    {
        UnauthorizedAccessException => "access is denied",
        PathTooLongException => "the name is too long",
        IOException => "the folder or its disk refuses it",
        _ => "it is not the name of a file",
    };

    /// <summary>Writes the whole file and gives it its name.</summary>
    /// <param name="write">Writes what is in it.</param>
    /// <param name="stop">Ctrl-C: no file is left.</param>
    /// <returns>Octets written.</returns>
    /// <exception cref="UsageException">The disk refused; no half file is left.</exception>
    public long Fill(Action<Stream> write, CancellationToken stop)
    {
        try
        {
            write(Stream);
            Stream.Flush();
            long octets = Stream.Length;
            stop.ThrowIfCancellationRequested();
            Finish();
            return octets;
        }
        catch (IOException failure)
        {
            throw new UsageException($"{_path}: writing failed ({failure.Message.TrimEnd('.')}), and no half file is left; check the disk and its free space");
        }
    }

    /// <summary>Gives the file its name.</summary>
    /// <exception cref="UsageException">The name was taken meanwhile.</exception>
    public void Finish()
    {
        Stream.Flush();
        Stream.Dispose();
        try
        {
            File.Move(_unfinished, _path, overwrite: false);
        }
        catch (IOException failure)
        {
            throw new UsageException($"{_path}: the file could not be given its name ({failure.Message.TrimEnd('.')}); nothing was written over, run it again with another name");
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Stream.Dispose();
        File.Delete(_unfinished);
    }
}
