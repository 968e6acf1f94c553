using DmxProbe.Reporting.Archive;

namespace DmxProbe.Cli;

/// <summary>
/// The files of an archive that are being written. They carry another name until all are whole, so that a reader never sees half
/// a recording; what was begun and not finished is taken away.
/// </summary>
/// <param name="root">The folder of the archive.</param>
internal sealed class ArchiveFolder(string root) : IDisposable
{
    private const string Unfinished = ".unfinished";
    private readonly List<string> _paths = [];
    private readonly HashSet<string> _made = new(StringComparer.Ordinal); // folders that were not there before
    private bool _isDone;

    /// <summary>Files written.</summary>
    public int Files => _paths.Count;

    /// <summary>Their octets.</summary>
    public long Octets { get; private set; }

    /// <summary>Makes a file.</summary>
    public Stream Create(ArchivePlace place)
    {
        string folder = Path.Combine([root, .. place.Folders]);
        lock (_paths)
        {
            for (string? each = folder; !string.IsNullOrEmpty(each) && !Directory.Exists(each); each = Path.GetDirectoryName(each))
            {
                _made.Add(each);
            }

            Directory.CreateDirectory(folder);
        }

        string path = Path.Combine(folder, place.File);
        FileStream stream = new(path + Unfinished, FileMode.Create, FileAccess.ReadWrite, FileShare.None);
        lock (_paths)
        {
            _paths.Add(path);
        }

        return stream;
    }

    /// <summary>Gives all files their names.</summary>
    public void Commit()
    {
        foreach (string path in _paths)
        {
            Octets += new FileInfo(path + Unfinished).Length;
            File.Move(path + Unfinished, path, overwrite: true);
        }

        _isDone = true;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_isDone)
        {
            return;
        }

        foreach (string path in _paths)
        {
            try
            {
                File.Delete(path + Unfinished);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // The next packing writes over it.
            }
        }

        // The deepest first, and only while they are empty.
        foreach (string folder in _made.OrderByDescending(each => each.Length))
        {
            try
            {
                Directory.Delete(folder);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // Somebody put something in.
            }
        }
    }
}
